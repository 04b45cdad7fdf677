"""A screen that is one text to read, made again for every width."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from tui.screens.bases.tank_acts import TankActs


class TextScreen(TankActs):
    """`lines` says what there is to read, `width` cells wide."""

    _made_for = 0
    """The width of the screen that the text was made for."""

    def compose_body(self) -> ComposeResult:
        """The text."""
        with VerticalScroll(id="scroll"):
            yield Static(self._text(), id="text")

    def on_mount(self) -> None:
        """Take the keys."""
        self.query_one("#scroll").focus()

    def on_resize(self) -> None:
        """Fit the text to the new width."""
        super().on_resize()
        if self._made_for != self.app.size.width:
            self.show_text()

    def lines(self, width: int) -> Iterable[Content]:
        """What there is to read."""
        raise AssertionError(width)

    def show_text(self) -> None:
        """Show the text as things stand now."""
        self.query_one("#text", Static).update(self._text())

    def _text(self) -> Content:
        self._made_for = self.app.size.width
        return Content("\n").join(self.lines(max(20, self._made_for - 4)))

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Things changed: show the text again."""
        super().catch_up(tanks)
        self.show_text()

    def action_more(self) -> None:
        """Read on."""
        self.query_one("#scroll", VerticalScroll).scroll_page_down(animate=False)

    def action_less(self) -> None:
        """Go back up."""
        self.query_one("#scroll", VerticalScroll).scroll_page_up(animate=False)
