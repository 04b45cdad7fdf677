"""The room file was changed while the program is open: what that changes, and whether to take it in."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any, ClassVar, Final

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static

from schedules.ledger import LedgerFault
from schedules.room import Room
from schedules.room_file import RoomFileFaults, load_room
from schedules.session.room_change import PlanChange, only_names, plan_question, room_changes
from schedules.session.room_watch import RoomWatch
from schedules.wording.room_changes import ONLY_NAMES, plan_change_text, room_change_text
from tui.screens.dashboard import Dashboard
from tui.screens.dialogs.dialog import Dialog, list_height
from tui.screens.dialogs.text_dialog import TextDialog, text_width
from tui.widgets.cells import wrap
from tui.workers import fault_text, work_beside

TITLE: Final = "The room file was changed"
PLANNING: Final = "the plan of the coming days: being worked out …"
OPTIONS: Final = ("take it in", "leave it for now")
HINT: Final = "a digit or enter picks; esc leaves it for now"


class ChangedRoom(Dialog[bool]):
    """What an edited room changes; ends with whether to take it in. The change of the plan follows when it is known."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,2", "pick(False)", "leave it", show=False),
        Binding("1", "pick(True)", "take it in", show=False),
    ]

    def __init__(self, dashboard: Dashboard, room: Room, changes: Sequence[str]) -> None:
        super().__init__()
        self._session = dashboard.session
        self._room = room
        self._changes = changes

    def compose(self) -> ComposeResult:
        """What changes, line by line; the two ways on."""
        with Vertical(id="dialog"):
            yield Static(self._text(PLANNING), id="title")
            options = OptionList(*(f"{number}  {text}" for number, text in enumerate(OPTIONS, 1)))
            options.styles.max_height = list_height(*self.app.size, self._text(PLANNING).plain, HINT)
            yield options
            yield Static(Content(HINT), id="hint")

    def _text(self, plan: str) -> Content:
        return Content("\n".join([TITLE, *(f"  {line}" for line in (*self._changes, plan))]))

    def on_mount(self) -> None:
        """Work out beside it what it changes in the plan."""
        if only_names(self._session.file_room, self._room):
            self._show_plan(ONLY_NAMES)
            return
        try:
            question = plan_question(self._session, self._session.lived_in(self._room))
        except LedgerFault as fault:
            self._show_plan(f"what it changes in the plan is not known: {fault}")
            return
        work_beside(self.app, question, self._show_change, self._show_fault)

    def _show_change(self, change: PlanChange) -> None:
        self._show_plan(plan_change_text(change))

    def _show_fault(self, error: Exception) -> None:
        self._show_plan(f"what it changes in the plan could not be worked out: {fault_text(error)}")

    def _show_plan(self, text: str) -> None:
        """Show what is known of the plan now, unless the box is closed already."""
        if self.is_attached:
            self.query_one("#title", Static).update(self._text(text))

    def action_pick(self, take: bool) -> None:
        """Pick by a key."""
        self.finish(take)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Pick by Enter or a tap."""
        self.finish(event.option_index == 0)


def offer(app: App[Any], dashboard: Dashboard, watch: RoomWatch) -> None:
    """Read the room file again and show at once what it changes, or its faults; else say that it changes nothing."""
    if watch.path is None:
        dashboard.say("no room file is watched here")
        return
    try:
        room = load_room(watch.path)
    except RoomFileFaults as faults:
        width = text_width(app.size.width)
        lines = [Content(line) for fault in faults.lines() for line in wrap(fault, width)]
        way = "The room stays as it was. Correct the file and save it; it is looked at again."
        app.push_screen(TextDialog("The room file has faults", [*lines, Content(""), Content(way)]))
        return
    changes = room_changes(dashboard.session.file_room, room)
    if changes:
        said = [room_change_text(change) for change in changes]
        app.push_screen(ChangedRoom(dashboard, room, said), partial(_decide, dashboard, watch, room))
    else:
        watch.waits = False
        dashboard.say("the room file says the same as before")


def _decide(dashboard: Dashboard, watch: RoomWatch, room: Room, take: bool | None) -> None:
    if not take:
        return
    try:
        dashboard.session.take_room(room)
    except LedgerFault as fault:
        dashboard.say(str(fault))
        return
    watch.waits = False
    dashboard.open_round()
    dashboard.say("the room file is taken in; today stays as posted, the plan follows it from tomorrow on")
