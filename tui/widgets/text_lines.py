"""Texts as lines of one style: wrapped, standing in from the second line on, or under a numbered line."""

from __future__ import annotations

from typing import Final

from textual.content import Content

from tui.widgets.cells import wrap

INDENT: Final = 3
"""Cells before the text of a numbered line: its number stands there."""


def styled(text: str, width: int, style: str, hanging: int = 0) -> list[Content]:
    """A text in one style; its lines from the second on stand in."""
    first, *rest = wrap(text, max(8, width - hanging))
    return [Content.styled(first, style), *(Content.styled(" " * hanging + line, style) for line in rest)]


def under(text: str, width: int, style: str) -> list[Content]:
    """Lines under a numbered line."""
    return [Content.styled(" " * INDENT + line, style) for line in wrap(text, max(8, width - INDENT))]
