"""A text over the present screen, to read and close."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from tui.screens.dialogs.dialog import Dialog

FRAME: Final = 6
"""Cells that the frame and the scrollbar take."""
WIDEST: Final = 72


def text_width(screen_width: int) -> int:
    """How many cells a text dialog has for its text on a screen."""
    return max(16, min(WIDEST, int(screen_width * 0.96)) - FRAME)


class TextDialog(Dialog[None]):
    """Shows a title and lines that were made for `text_width`."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(key, "close", "close", show=False) for key in ("escape", "enter", "space", "q", "f1")
    ]

    def __init__(self, title: str, lines: Sequence[Content]) -> None:
        super().__init__()
        self._title = title
        self._lines = lines

    def compose(self) -> ComposeResult:
        """Title, text, how to get out."""
        with Vertical(id="dialog"):
            yield Static(Content(self._title), id="title")
            with VerticalScroll(id="text-dialog"):
                yield Static(Content("\n").join(self._lines), id="lines")
            yield Static(Content("arrows scroll; enter, space or esc closes"), id="hint")

    def on_click(self) -> None:
        """A tap closes too."""
        self.finish(None)

    def action_close(self) -> None:
        """Go back."""
        self.finish(None)
