"""A screen that is a list with a few lines about the current row."""

from __future__ import annotations

from typing import ClassVar, Final, Generic, TypeVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import DataTable

from tui.screens.bases.tank_acts import TankActs
from tui.widgets.cells import cut
from tui.widgets.lines import Lines

Item = TypeVar("Item")
NARROW: Final = 76
"""Screens of fewer cells across do without some columns."""


class Rows(DataTable[Text]):
    """The list's rows; home and end go to the first and the last one."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("home", "scroll_top", show=False),
        Binding("end", "scroll_bottom", show=False),
    ]


class ListScreen(TankActs, Generic[Item]):
    """Rows of `Item`s; `row` gives an item's cells, `about` the lines below the list, `tank_of` its tank."""

    columns: tuple[tuple[str, int | None], ...] = ()
    left_out: frozenset[str] = frozenset()
    """Columns that narrow screens do without; `about` says what they say."""
    nothing = "nothing"

    _filled_for = 0
    """The width of the screen that the cells were cut for."""

    def compose_body(self) -> ComposeResult:
        """The list, and what there is to say about the current row."""
        yield Rows(id="list", cursor_type="row", cell_padding=0)
        yield Lines(id="detail")

    def on_mount(self) -> None:
        """Fill the list."""
        self.fill()
        self.table.focus()

    @property
    def table(self) -> DataTable[Text]:
        """The list."""
        return self.query_one("#list", DataTable)

    @property
    def current_item(self) -> Item | None:
        """The item the cursor is on."""
        row = self.table.cursor_row
        return self._items[row] if 0 <= row < len(self._items) else None

    @property
    def current_tank(self) -> str | None:
        """The tank of that item."""
        item = self.current_item
        return None if item is None else self.tank_of(item)

    def items(self) -> tuple[Item, ...]:
        """What is listed, as it stands now."""
        return ()

    def row(self, item: Item) -> tuple[str, ...]:
        """An item's cells."""
        raise AssertionError(item)

    def about(self, item: Item) -> str:
        """What there is to say about an item."""
        raise AssertionError(item)

    def tank_of(self, item: Item) -> str | None:
        """The tank an item is about."""
        raise AssertionError(item)

    def fill(self) -> None:
        """List the items as they stand now, keeping the current row where it still is."""
        self._items, self._filled_for = self.items(), self.app.size.width
        at = self.table.cursor_row
        shown = self._shown()
        if [label for label, _, _ in shown] != [column.label.plain for column in self.table.ordered_columns]:
            self.table.clear(columns=True)
            for label, width, _ in shown:
                self.table.add_column(Text(label), width=width)
        self.table.clear()
        for item in self._items:
            cells = self.row(item)
            self.table.add_row(*(Text(cut(cells[n], width - 1), no_wrap=True) for _, width, n in shown))
        self.table.move_cursor(row=min(at, max(0, len(self._items) - 1)), animate=False)
        self._show_about()

    def _shown(self) -> list[tuple[str, int, int]]:
        """The columns that fit: label, cells and place in a row; the one without a width takes what is left."""
        across = self.app.size.width
        shown = [
            (label, width, number)
            for number, (label, width) in enumerate(self.columns)
            if across >= NARROW or label not in self.left_out
        ]
        left = max(16, across - sum(width for _, width, _ in shown if width) - 1)
        return [(label, width or left, number) for label, width, number in shown]

    def on_resize(self) -> None:
        """Cut the cells to the new width."""
        super().on_resize()
        if self._filled_for != self.app.size.width:
            self.fill()

    def on_data_table_row_highlighted(self, event: DataTable.RowHighlighted) -> None:
        """Say more about the current row."""
        event.stop()
        self._show_about()

    def on_data_table_row_selected(self, event: DataTable.RowSelected) -> None:
        """Enter or a tap on the current row."""
        event.stop()
        self.entered()

    def _show_about(self) -> None:
        item = self.current_item
        self.query_one(Lines).update(Content(self.nothing if item is None else self.about(item)))

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Others changed something: list it again."""
        super().catch_up(tanks)
        if tanks:
            self.fill()
