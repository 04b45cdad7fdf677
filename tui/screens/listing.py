"""A screen that is a list with a few lines about the row at hand."""

from __future__ import annotations

from typing import Generic, TypeVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.widgets import DataTable, Static

from tui.screens.page import Page

Item = TypeVar("Item")


class Listing(Page, Generic[Item]):
    """Rows of `Item`s; `row` gives an item's cells, `about` the lines below the list."""

    columns: tuple[tuple[str, int | None], ...] = ()
    nothing = "nothing"

    def compose_body(self) -> ComposeResult:
        """The list, and what there is to say about the row at hand."""
        yield DataTable[Text](id="list", cursor_type="row", cell_padding=0)
        yield Static(id="detail")

    def on_mount(self) -> None:
        """Fill the list."""
        table = self.table
        for label, width in self.columns:
            table.add_column(label, width=width)
        self.fill()
        table.focus()

    @property
    def table(self) -> DataTable[Text]:
        """The list."""
        return self.query_one("#list", DataTable)

    def items(self) -> tuple[Item, ...]:
        """What is listed, as it stands now."""
        return ()

    def row(self, item: Item) -> tuple[str, ...]:
        """An item's cells."""
        raise AssertionError(item)

    def about(self, item: Item) -> str:
        """What there is to say about an item."""
        raise AssertionError(item)

    def fill(self) -> None:
        """List the items as they stand now, keeping the row at hand where it still is."""
        self._items = self.items()
        at = self.table.cursor_row
        self.table.clear()
        for item in self._items:
            self.table.add_row(*(Text(cell, no_wrap=True) for cell in self.row(item)))
        self.table.move_cursor(row=min(at, max(0, len(self._items) - 1)), animate=False)
        self._tell_about()

    def on_data_table_row_highlighted(self, event: DataTable.RowHighlighted) -> None:
        """Say more about the row at hand."""
        event.stop()
        self._tell_about()

    def _tell_about(self) -> None:
        row = self.table.cursor_row
        text = self.about(self._items[row]) if 0 <= row < len(self._items) else self.nothing
        self.query_one("#detail", Static).update(Content(text))

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Others changed something: list anew."""
        super().catch_up(tanks)
        self.fill()


BACK = Binding("escape", "show_round", "back to the round", show=True)
