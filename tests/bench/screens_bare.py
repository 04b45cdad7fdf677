"""A bare Textual app with the dashboard's widgets, screen by screen, filled with fixed texts: nothing to think about.

Tables, texts and lines are Textual's own or the very ones that the dashboard draws with, so that what is left between
the two programs is what the dashboard works out and how often it paints.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping
from datetime import date, timedelta
from functools import partial
from typing import ClassVar, Final

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import DataTable, Static

from tui.widgets.lines import Lines

ABOUT: Final = "\n".join(f"line {number} of what there is to know about this row" for number in range(18))
FOOTER: Final = "space done  s skip  l leftovers  u undo  t tank  f1 keys"
KEYS: Final = {
    "prepare": "b",
    "lookback": "k",
    "missed": "m",
    "flags": "f",
    "plan": "p",
    "room": "v",
    "tank": "enter",
}
COLUMNS: Final[Mapping[str, tuple[int, ...]]] = {
    "lookback": (10, 6, 62),
    "missed": (12, 6, 19, 20, 22),
    "flags": (8, 11, 6, 54),
}
"""How many cells the columns of each list have."""
TEXT_LINES: Final = 60


class Plain(Screen[None]):
    """A bar above, a line and the keys below; a body between."""

    AUTO_FOCUS = None
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "app.pop_screen")]

    def __init__(self, rows: int) -> None:
        super().__init__()
        self.rows = rows

    def compose(self) -> ComposeResult:
        """Bar, body, line, keys."""
        yield Static("A room of tanks\n0 done", id="bar")
        yield from self.body()
        yield Static("", id="message")
        yield Static(FOOTER, id="footer")

    def body(self) -> Iterator[Widget]:
        """What lies between."""
        yield from ()

    def detail(self, about: str) -> None:
        """Show a text about the current row."""
        self.query_one(Lines).update(Content(f"{about}\n{ABOUT}"))


class Round(Plain):
    """A table of so many rows and a text about the current row; Space changes a cell and goes on to the next row."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("space", "finish")]

    def body(self) -> Iterator[Widget]:
        """The table and the text."""
        yield Horizontal(
            DataTable[str](id="stops", cursor_type="row", show_header=False, cell_padding=0),
            Lines(id="stop"),
            id="body",
        )

    def on_mount(self) -> None:
        """Fill the table."""
        table = self.query_one(DataTable)
        table.add_column("state", width=8, key="state")
        table.add_column("id")
        for row in range(self.rows):
            table.add_row(" 2 due", f"t{row}", key=str(row))
        table.focus()

    def on_data_table_row_highlighted(self, event: DataTable.RowHighlighted) -> None:
        """Show the text of the current row."""
        self.detail(f"t{event.cursor_row}")

    def on_data_table_row_selected(self) -> None:
        """Enter opens a text."""
        self.app.push_screen(Text(TEXT_LINES))

    def action_finish(self) -> None:
        """Change the current row, the bar and the line, and go on."""
        table = self.query_one(DataTable)
        row = table.cursor_row
        table.update_cell(str(row), "state", " done")
        table.move_cursor(row=row + 1, animate=False)
        self.query_one("#bar", Static).update(f"A room of tanks\n{row + 1} done", layout=False)
        self.query_one("#message", Static).update(f"t{row} done. u takes it back", layout=False)


class Listed(Plain):
    """A table of so many rows, and lines about the current row."""

    def __init__(self, rows: int, columns: tuple[int, ...]) -> None:
        super().__init__(rows)
        self.columns = columns

    def body(self) -> Iterator[Widget]:
        """The table and the lines."""
        yield DataTable[str](id="list", cursor_type="row", cell_padding=0)
        yield Lines(id="detail")

    def on_mount(self) -> None:
        """Fill the table."""
        table = self.query_one(DataTable)
        for number, width in enumerate(self.columns):
            table.add_column(f"column {number}"[:width], width=width)
        for row in range(self.rows):
            table.add_row(*(f"row {row} of the list, and what there is to say"[: width - 1] for width in self.columns))
        table.focus()

    def on_data_table_row_highlighted(self, event: DataTable.RowHighlighted) -> None:
        """Show the lines of the current row."""
        self.detail(f"row {event.cursor_row}")


class Text(Plain):
    """A text of so many lines to scroll through."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("right", "page(1)"), Binding("left", "page(-1)")]

    def body(self) -> Iterator[Widget]:
        """The text."""
        lines = "\n".join(f"line {row} of a text that is read from top to bottom" for row in range(self.rows))
        yield VerticalScroll(Static(lines, id="text"), id="scroll")

    def on_mount(self) -> None:
        """Take the keys."""
        self.query_one(VerticalScroll).focus()

    def action_page(self, down: int) -> None:
        """Scroll by what fits."""
        text = self.query_one(VerticalScroll)
        (text.scroll_page_down if down > 0 else text.scroll_page_up)(animate=False)


class Plan(Plain):
    """So many rows of a grid of days, and lines about the current cell."""

    def body(self) -> Iterator[Widget]:
        """The grid and the lines."""
        from tui.widgets.grids.plan_grid import PlanGrid, PlanPicture

        tanks = [f"t{row}" for row in range(self.rows)]
        days = [date(2026, 11, 25) + timedelta(days=number) for number in range(28)]
        marks = {(tank, day): "df" for tank in tanks for day in range(0, 28, 2)}
        yield PlanGrid(PlanPicture(tanks, days, [40.0] * 28, marks, {}, frozenset(), [False] * 28))
        yield Lines(id="detail")

    def on_mount(self) -> None:
        """Take the keys."""
        self.query_one("#grid").focus()

    def on_plan_grid_moved(self) -> None:
        """Show the lines of the current cell."""
        from tui.widgets.grids.plan_grid import PlanGrid

        self.detail(f"cell {self.query_one(PlanGrid).cell}")


class Room(Plain):
    """So many cells of a room, and lines about the current cell."""

    def body(self) -> Iterator[Widget]:
        """The cells and the lines."""
        from tui.widgets.grids.room_grid import RackPicture, RoomGrid, TankCell

        cells = [TankCell(f"t{row}", "2 due", "", f"Tank number {row}") for row in range(self.rows)]
        racks = [RackPicture(f"Rack {first}", tuple(cells[first : first + 24])) for first in range(0, self.rows, 24)]
        yield RoomGrid(racks)
        yield Lines(id="detail")

    def on_mount(self) -> None:
        """Take the keys."""
        self.query_one("#racks").focus()

    def on_room_grid_moved(self) -> None:
        """Show the lines of the current cell."""
        from tui.widgets.grids.room_grid import RoomGrid

        self.detail(f"tank {self.query_one(RoomGrid).tank}")


class Bare(App[None]):
    """The round's widgets first; the keys of the other screens open theirs. `rows` are the rows of each."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(key, f"open('{name}')") for name, key in KEYS.items() if name != "tank"
    ]
    CSS = """
    #bar { height: 2; padding: 0 1; }
    #message { height: 1; padding: 0 1; }
    #footer { dock: bottom; height: 1; }
    #body, #list, #grid, #racks { height: 1fr; }
    #stops { width: 15; height: 1fr; scrollbar-size-vertical: 1; overflow-x: hidden; }
    #stop { width: 1fr; height: 1fr; padding: 0 1; }
    #list { overflow-x: hidden; scrollbar-size-vertical: 1; }
    #detail { height: 5; padding: 0 1; }
    Room #detail { height: 3; }
    #scroll { height: 1fr; padding: 0 1; scrollbar-size-vertical: 1; }
    #text { width: 1fr; height: auto; }
    """

    def __init__(self, rows: Mapping[str, int]) -> None:
        super().__init__()
        self.rows = rows

    def get_default_screen(self) -> Screen[None]:
        """The round's widgets."""
        return Round(self.rows["round"])

    def action_open(self, name: str) -> None:
        """Open the widgets of another screen."""
        kind: Callable[[int], Plain] = Text
        if name in COLUMNS:
            kind = partial(Listed, columns=COLUMNS[name])
        elif name in ("plan", "room"):
            kind = Plan if name == "plan" else Room
        self.push_screen(kind(self.rows.get(name, TEXT_LINES)))


if __name__ == "__main__":
    Bare({name: int(rows) for name, _, rows in (word.partition("=") for word in sys.argv[1:])}).run()
