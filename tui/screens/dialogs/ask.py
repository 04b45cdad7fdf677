"""A line of text or a number to type."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Input, Static

from tui.screens.dialogs.dialog import Dialog

Check = Callable[[str], str]
"""What is wrong with a text, in words; empty where nothing is."""
AGAIN: Final = "esc again lets the text go; enter keeps it"


class Ask(Dialog[str | None]):
    """Shows a question and ends with what was typed, or None.

    A text that `check` finds at fault stays in its box with the fault below it. A text is let go with a second Escape.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "none", "none")]

    def __init__(
        self, title: str, hint: str = "enter keeps it; esc lets it go", limit: int = 200, check: Check = lambda _: ""
    ) -> None:
        super().__init__()
        self._title = title
        self._hint = hint
        self._limit = limit
        self._check = check
        self._asked = False

    def compose(self) -> ComposeResult:
        """The question, the line, a hint."""
        with Vertical(id="dialog"):
            yield Static(Content(self._title), id="title")
            typed = Input(max_length=self._limit)
            typed.cursor_blink = False
            yield typed
            yield Static(Content(self._hint), id="hint")

    def action_none(self) -> None:
        """Type nothing; where something is typed already, ask once."""
        if self.query_one(Input).value.strip() and not self._asked:
            self._asked = True
            self._show_hint(AGAIN, "$warning")
        else:
            self.finish(None)

    def on_input_changed(self) -> None:
        """The text is another one: what was said of it no longer holds."""
        self._asked = False
        self._show_hint(self._hint, "")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Keep what was typed, unless something is wrong with it."""
        fault = self._check(event.value)
        if fault:
            self._show_hint(fault, "$error")
        else:
            self.finish(event.value)

    def _show_hint(self, text: str, style: str) -> None:
        self.query_one("#hint", Static).update(Content.styled(text, style))
