"""What the small windows over a screen share: a title, what is picked from or typed, a hint; all of it in view."""

from __future__ import annotations

from typing import Final, TypeVar

from textual.screen import ModalScreen

from tui.screens.opening import Opening
from tui.widgets.cells import wrap

Result = TypeVar("Result")
WIDEST: Final = 72
SIDES: Final = 4
"""Cells that frame and padding take across."""
FRAME: Final = 2
"""Lines of the frame."""


class Dialog(Opening[Result], ModalScreen[Result]):
    """A window that is closed once, however many keys come before it is gone."""

    _is_over = False

    def finish(self, result: Result) -> None:
        """End with a result; a second key that comes meanwhile changes nothing."""
        if not self._is_over and self.is_active:
            self._is_over = True
            self.dismiss(result)


def dialog_width(across: int) -> int:
    """Cells for a dialog's text on a screen of so many."""
    return max(12, min(WIDEST, int(across * 0.96)) - SIDES)


def list_height(across: int, lines: int, title: str, hint: str) -> int:
    """How many lines a list between title and hint may take so that both stay in view."""
    width = dialog_width(across)
    taken = sum(len(wrap(line, width)) for text in (title, hint) for line in text.split("\n"))
    return max(3, lines - FRAME - taken)
