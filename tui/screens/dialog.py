"""What the small windows over a screen share: a title, what is picked from or typed, a hint; all of it in view."""

from __future__ import annotations

from tui.widgets.cells import wrap

WIDEST = 72
SIDES = 4
"""Cells that frame and padding take across."""
FRAME = 2
"""Lines of the frame."""


def dialog_width(across: int) -> int:
    """Cells for a dialog's text on a screen of so many."""
    return max(12, min(WIDEST, int(across * 0.96)) - SIDES)


def list_height(across: int, lines: int, title: str, hint: str) -> int:
    """How many lines a list between title and hint may take so that both stay in view."""
    width = dialog_width(across)
    taken = sum(len(wrap(line, width)) for text in (title, hint) for line in text.split("\n"))
    return max(3, lines - FRAME - taken)
