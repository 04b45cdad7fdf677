"""A line of text or a number to type."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Input, Static

from tui.screens.dialog import Dialog


class Ask(Dialog[str | None]):
    """Shows a question and ends with what was typed, or None."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "none", "none")]

    def __init__(self, title: str, hint: str = "enter keeps it; esc lets it go", limit: int = 200) -> None:
        super().__init__()
        self._title = title
        self._hint = hint
        self._limit = limit

    def compose(self) -> ComposeResult:
        """The question, the line, a hint."""
        with Vertical(id="dialog"):
            yield Static(Content(self._title), id="title")
            typed = Input(max_length=self._limit)
            typed.cursor_blink = False
            yield typed
            yield Static(Content(self._hint), id="hint")

    def action_none(self) -> None:
        """Type nothing."""
        self.finish(None)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Keep what was typed."""
        self.finish(event.value)
