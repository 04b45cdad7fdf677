"""The stops of the round in walking order: one row each, changed in place."""

from __future__ import annotations

from typing import Final

from rich.text import Text
from textual.widgets import DataTable

from schedules.room import Room
from schedules.round import RoundSheet, Stop

STATE: Final = "state"


def state_of(stop: Stop) -> tuple[str, str]:
    """How a stop stands, in a word and the style that goes with it."""
    due = sum(serving.state == "due" for serving in stop.servings)
    held = sum(serving.held is not None for serving in stop.servings)
    if due and held == due:
        return "hold", "warning"
    if due:
        return (f"{due} due" if not held else f"{due} due!"), ""
    given = sum(serving.state == "given" for serving in stop.servings)
    return ("done", "success") if given else ("left out", "secondary")


class StopList(DataTable[Text]):
    """A table with a row for each stop, its key the tank's id."""

    def __init__(self, room: Room) -> None:
        super().__init__(id="stops", cursor_type="row", show_header=False, cell_padding=0)
        self._room = room

    def on_mount(self) -> None:
        """Set up the columns."""
        self.add_column("state", width=8, key=STATE)
        self.add_column("tank", width=5)
        self.add_column("name")

    def fill(self, sheet: RoundSheet) -> None:
        """Make all rows anew."""
        self.clear()
        for stop in sheet.stops:
            tank = self._room.tanks[stop.tank]
            name = Text(tank.name, no_wrap=True)
            self.add_row(self._state(stop), Text(tank.id), name, key=stop.tank)

    def tell(self, stop: Stop) -> None:
        """Show how one stop stands now."""
        self.update_cell(stop.tank, STATE, self._state(stop))

    def _state(self, stop: Stop) -> Text:
        word, style = state_of(stop)
        return Text(f" {word:<7}", style=self.app.theme_variables.get(style, ""))
