"""Bare Textual apps to compare with: the same number of table rows and columns, and nothing to think about.

`table` is a table and a footer. `widgets` has all the widgets of the round's screen, filled with fixed texts.
"""

from __future__ import annotations

import sys
from typing import ClassVar

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import DataTable, Footer, Static

ABOUT = "\n".join(f"line {number} of what there is to know about this row" for number in range(18))


class Bare(App[None]):
    """A table of so many rows; Space changes a cell and goes on to the next row."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "finish", "done"),
        Binding("s", "skip", "skip"),
        Binding("l", "leftovers", "leftovers"),
        Binding("u", "undo", "undo"),
        Binding("t", "jump", "tank"),
        Binding("f1", "keys", "keys"),
        Binding("q", "quit", "quit", show=False),
    ]

    action_skip = action_leftovers = action_undo = action_jump = action_keys = App.action_bell

    def __init__(self, rows: int) -> None:
        super().__init__()
        self.rows = rows

    def compose(self) -> ComposeResult:
        """The table and the footer."""
        yield DataTable[str](cursor_type="row", show_header=False, cell_padding=0)
        yield Footer(show_command_palette=False, compact=True)

    def on_mount(self) -> None:
        """Fill the table."""
        table = self.query_one(DataTable)
        table.add_column("state", width=8, key="state")
        table.add_column("id", width=5)
        table.add_column("name")
        for row in range(self.rows):
            table.add_row(" 2 due", f"t{row}", f"Tank number {row}", key=str(row))
        table.focus()

    def action_finish(self) -> None:
        """Change the row at hand and go on."""
        table = self.query_one(DataTable)
        row = table.cursor_row
        table.update_cell(str(row), "state", " done")
        table.move_cursor(row=row + 1, animate=False)


class BareWidgets(Bare):
    """The same with a bar above, a text beside the table that follows the row at hand, and a line below."""

    CSS = """
    #bar { height: 2; }
    #told { height: 1; }
    #body { height: 1fr; }
    DataTable { width: 31; height: 1fr; scrollbar-size-vertical: 1; overflow-x: hidden; }
    #scroll { width: 1fr; height: 1fr; scrollbar-size-vertical: 1; }
    #about { height: auto; }
    """

    def compose(self) -> ComposeResult:
        """Bar, table, text, line, footer."""
        yield Static("A room of tanks\n0 done", id="bar")
        table, footer = super().compose()
        with Horizontal(id="body"):
            yield table
            with VerticalScroll(id="scroll", can_focus=False):
                yield Static(id="about")
        yield Static("", id="told")
        yield footer

    def on_data_table_row_highlighted(self, event: DataTable.RowHighlighted) -> None:
        """Show the text of the row at hand."""
        self.query_one("#about", Static).update(f"t{event.cursor_row}\n{ABOUT}")

    def action_finish(self) -> None:
        """Change the row at hand, the bar and the line, and go on."""
        super().action_finish()
        done = self.query_one(DataTable).cursor_row
        self.query_one("#bar", Static).update(f"A room of tanks\n{done} done")
        self.query_one("#told", Static).update(f"t{done - 1} done. u takes it back")


if __name__ == "__main__":
    kind, rows = sys.argv[1:]
    {"table": Bare, "widgets": BareWidgets}[kind](int(rows)).run()
