"""The stops of the round in walking order: one row each, changed in place."""

from __future__ import annotations

from collections.abc import Collection
from typing import ClassVar, Final

from rich.text import Text
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from schedules.formatting import counted
from schedules.round import Stop
from schedules.session.session import Session
from schedules.wording.chores.chores import stop_id
from tui.widgets.cells import cut, fit, short, unbracketed
from tui.widgets.colours import theme_style

STATE: Final = "state"
ID: Final = 6
NAME: Final = 23
"""Cells of a tank's id and name in the list."""
FRAME: Final = 4
"""Cells around the stop beside the list: its padding, and what is left free at its end."""


def list_width(across: int) -> int:
    """How wide the list is on a screen of so many cells: states and ids; with names; with feeds too."""
    return 15 if across < 110 else 39 if across < 160 else 80


def state_of(session: Session, stop: Stop, later: bool = False) -> tuple[str, str]:
    """How a stop stands, in a word and the style that goes with it."""
    due = stop.states.count("due")
    held = sum(serving.held is not None for serving in stop.servings)
    if due and not session.is_open(stop):
        return "kept !", "error"
    if due and held == due:
        return "hold", "warning"
    if due:
        return ("later" if later else f"{due} due" if not held else f"{due} due !"), ""
    given = "given" in stop.states or "done" in stop.states
    return ("✓ done", "success") if given else ("– left", "secondary")


class StopList(DataTable[Text]):
    """A table with a row for each stop, by the stop's key: its tank's id where it has one."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("home", "scroll_top", show=False),
        Binding("end", "scroll_bottom", show=False),
        Binding("right", "screen.more", show=False, id="more"),
        Binding("left", "screen.less", show=False, id="less"),
    ]

    def __init__(self, session: Session) -> None:
        super().__init__(id="stops", cursor_type="row", show_header=False, cell_padding=0)
        self._session = session
        self.narrowed_by = ""
        self._keys: frozenset[str] | None = None

    @property
    def stops(self) -> tuple[Stop, ...]:
        """The stops listed: all of the round, or those it was narrowed to, which stay whatever becomes of them."""
        stops = self._session.sheet.stops
        return stops if self._keys is None else tuple(stop for stop in stops if stop.key in self._keys)

    def narrow(self, text: str, keys: Collection[str]) -> None:
        """List only some stops, by their keys, which a text was found in; with no text all again."""
        self.narrowed_by, self._keys = text, frozenset(keys) if text else None
        self.fill()

    def find(self, key: str | None) -> int | None:
        """The row of a stop by its key, None where it is not listed."""
        return next((number for number, stop in enumerate(self.stops) if stop.key == key), None)

    def next_open(self) -> int:
        """The row of the first open stop; the first of all where none is open."""
        return next((number for number, stop in enumerate(self.stops) if self._session.is_open(stop)), 0)

    def narrowed_text(self) -> str:
        """What the list is narrowed to, in words."""
        listed, whole = len(self.stops), len(self._session.sheet.stops)
        return f'narrowed to "{self.narrowed_by}": {listed} of {counted(whole, "stop")}'

    def on_mount(self) -> None:
        """Set up the columns: two, since every cell in view is drawn again with each mark."""
        self.add_column("state", width=8, key=STATE)
        self.add_column("stop")

    def fill(self) -> None:
        """Make all rows again; names and feeds stand in the list only where it is wide."""
        self.clear()
        room = list_width(self.app.size.width) - 8
        for stop in self.stops:
            self.add_row(self._state(stop), Text(self._about(stop, room), no_wrap=True), key=stop.key)

    def _about(self, stop: Stop, room: int) -> str:
        """The tank's id, and what there is room for of its name, its feeds and its chores."""
        chores = [each.chore.name for each in stop.chores]
        if stop.tank is None:
            return self._about_chores(stop, chores, room)
        tank = self._session.room.tanks[stop.tank]
        if room <= ID + 1:
            return cut(tank.id, ID)
        feeds = ", ".join([*(unbracketed(serving.feed_name) for serving in stop.servings), *chores])
        name = fit(short(tank.name, NAME - 1), NAME)
        return f"{fit(tank.id, ID)} {name}{cut(feeds, max(0, room - ID - NAME - 3))}"

    def _about_chores(self, stop: Stop, chores: list[str], room: int) -> str:
        """Of a stop without a tank: the rack or the walk, and its chores."""
        first = fit(cut(stop_id(stop), ID), ID)
        return first if room <= ID + 1 else f"{first} {cut(', '.join(chores), max(0, room - ID - 3))}"

    def update_stop(self, stop: Stop, later: bool = False) -> None:
        """Show how one stop stands now, if it is listed."""
        if self._keys is None or stop.key in self._keys:
            self.update_cell(stop.key, STATE, self._state(stop, later))

    def _state(self, stop: Stop, later: bool = False) -> Text:
        word, style = state_of(self._session, stop, later)
        return Text(f" {word:<7}", style=theme_style(self.app, style))
