"""The room file was changed while the program is open: check it, say what it changes, offer to take it in."""

from __future__ import annotations

from asyncio import to_thread
from typing import TYPE_CHECKING

from textual.content import Content

from schedules.ledger import LedgerFault
from schedules.room import Room
from schedules.room_file import RoomFileFaults, load_room
from schedules.session.room_change import only_names, plan_question, room_changes
from schedules.wording.room_changes import ONLY_NAMES, plan_change_text, room_change_text
from tui.screens.choose import Choose
from tui.screens.leaf import Leaf, leaf_width
from tui.widgets.cells import wrap

if TYPE_CHECKING:
    from tui.app import RackroundApp


async def offer(app: RackroundApp) -> None:
    """Read the room file again and go by what the keeper decides; a faulty one changes nothing."""
    path = app.room_watch.path
    if path is None:
        app.page.tell("no room file is watched here")
        return
    try:
        room = load_room(path)
    except RoomFileFaults as faults:
        width = leaf_width(app.size.width)
        lines = [Content(line) for fault in faults.lines() for line in wrap(fault, width)]
        way = "The room stays as it was. Correct the file and save it; it is looked at again."
        await app.push_screen_wait(Leaf("The room file has faults", [*lines, Content(""), Content(way)]))
        return
    changes = room_changes(app.session.file_room, room)
    if not changes:
        app.page.tell("the room file says the same as before")
        return
    said = [room_change_text(change) for change in changes] + [await _plan_text(app, room)]
    title = "\n".join(["The room file was changed", *(f"  {line}" for line in said)])
    options = ("take it in", "leave it for now")
    if await app.push_screen_wait(Choose(title, options)) == 0:
        _take_in(app, room)


async def _plan_text(app: RackroundApp, room: Room) -> str:
    if only_names(app.session.file_room, room):
        return ONLY_NAMES
    try:
        question = plan_question(app.session, app.session.lived_in(room))
    except LedgerFault as fault:
        return f"what it changes in the plan is not known: {fault}"
    return plan_change_text(await to_thread(question))


def _take_in(app: RackroundApp, room: Room) -> None:
    try:
        app.session.take_room(room)
    except LedgerFault as fault:
        app.page.tell(str(fault))
        return
    app.open_round()
    app.page.tell("the room file is taken in; today stays as posted, the plan follows it from tomorrow on")
