"""Find a tank as one types: any of the room by its id or name, or a stop by its rack, a feed or its state."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from schedules.room import Room
from tui.screens.dialogs.dialog import Dialog, list_height
from tui.widgets.cells import cut, fit

TITLE: Final = "Which tank? A part of its id or name"
HINT: Final = "up and down choose; enter goes there; esc closes"
SHOWN: Final = 8
ID: Final = 7


class FindTank(Dialog[str | None]):
    """Ends with the id of the tank that was picked, or None.

    `about` says something of each tank that is offered, beside its id and name; what is typed is looked for in all
    three.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "none", "none"),
        Binding("down", "move(1)", show=False, priority=True),
        Binding("up", "move(-1)", show=False, priority=True),
    ]

    def __init__(self, room: Room, about: Mapping[str, str], title: str = TITLE, hint: str = HINT) -> None:
        super().__init__()
        self._room = room
        self._about = about
        self._title = title
        self._hint = hint
        self.typed = ""
        """What was typed, without blanks around it."""

    def compose(self) -> ComposeResult:
        """The line to type in, and the tanks that match."""
        with Vertical(id="dialog"):
            yield Static(Content(self._title), id="title")
            typed = Input(max_length=60)
            typed.cursor_blink = False
            yield typed
            found = OptionList(id="found")
            found.can_focus = False
            found.styles.max_height = min(SHOWN, list_height(*self.app.size, self._title, self._hint) - 3)
            yield found
            yield Static(Content(self._hint), id="hint")

    def on_mount(self) -> None:
        """Show all tanks, and type at once."""
        self._show("")
        self.query_one(Input).focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show what matches now."""
        self.typed = event.value.strip()
        self._show(event.value)

    def _show(self, part: str) -> None:
        matches = matching(self._room, part, self._about)
        found = self.query_one("#found", OptionList)
        found.clear_options()
        found.add_options([Option(Content(self._line(tank)), id=tank) for tank in matches])
        found.highlighted = 0 if matches else None
        self.query_one("#hint", Static).update(
            Content(self._hint if matches else f'nothing here has "{cut(part, 30)}" in it')
        )

    def _line(self, tank: str) -> str:
        about = self._about[tank]
        return f"{fit(tank, ID)} {self._room.tanks[tank].name}{f'  ({about})' if about else ''}"

    def action_move(self, down: int) -> None:
        """Choose the next tank or the one before."""
        found = self.query_one("#found", OptionList)
        if down > 0:
            found.action_cursor_down()
        else:
            found.action_cursor_up()

    def action_none(self) -> None:
        """Pick no tank."""
        self.finish(None)

    def on_input_submitted(self) -> None:
        """Go to the tank that is chosen."""
        option = self.query_one("#found", OptionList).highlighted_option
        if option is not None:
            self.finish(option.id)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go to the tank that was tapped."""
        self.finish(event.option_id)


def matching(room: Room, part: str, about: Mapping[str, str]) -> list[str]:
    """Those of some tanks in whose id, name or text each word typed is found, in walking order.

    The id itself comes first, then ids that begin so.
    """
    wanted = part.strip().casefold()
    texts = {tank: f"{tank} {room.tanks[tank].name} {text}".casefold() for tank, text in about.items()}
    found = [tank for tank in room.walk if tank in texts and (wanted in texts[tank] or _has_all(texts[tank], wanted))]
    return sorted(found, key=lambda tank: (tank.casefold() != wanted, not tank.casefold().startswith(wanted)))


def _has_all(text: str, wanted: str) -> bool:
    return all(word in text for word in wanted.split())
