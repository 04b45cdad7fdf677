"""Texts cut, filled and wrapped by the cells they take on a terminal, not by their characters."""

from __future__ import annotations

import re
from typing import Final

from rich.cells import cell_len, set_cell_size

from schedules.formatting import clean

MORE: Final = "…"
BREAKS: Final = re.compile(r"(?<!\d) | (?!(?:mg|g|mL|L|mm|min|h|%|°C|°F|mg/L|dGH|dKH|µS/cm|fl oz|gal)(?!\w))")
"""Where a line may be broken: at a blank, but not between a number and its unit."""


def cells(text: str) -> int:
    """How many cells a text takes."""
    return cell_len(text)


def cut(text: str, width: int) -> str:
    """A text on one line, at most `width` cells; what does not fit ends in …"""
    line = clean(text)
    if cell_len(line) <= width:
        return line
    return set_cell_size(line, width - 1).rstrip() + MORE if width > 0 else ""


def fit(text: str, width: int, *, right: bool = False) -> str:
    """A text cut or filled to exactly `width` cells."""
    line = cut(text, width)
    fill = " " * (width - cell_len(line))
    return fill + line if right else line + fill


def short(name: str, width: int) -> str:
    """A name in at most `width` cells: what stands in brackets at its end goes first, then words, then letters."""
    line = clean(name)
    if cell_len(line) <= width:
        return line
    line = unbracketed(line)
    if cell_len(line) <= width:
        return line
    body = cut(line, width).rstrip(MORE)
    if not line[len(body) :].startswith(" "):
        body = body.rpartition(" ")[0]
    whole = body.rstrip(" ,;:")
    return whole + MORE if cell_len(whole) >= width * 2 // 3 else cut(line, width)


def unbracketed(name: str) -> str:
    """A name without what stands in brackets at its end."""
    line = clean(name)
    return line[: line.rindex("(")].rstrip() if line.endswith(")") and "(" in line[1:] else line


def wrap(text: str, width: int) -> list[str]:
    """A text as lines of at most `width` cells, broken at `BREAKS` where that is possible; never empty."""
    lines: list[str] = []
    for word in BREAKS.split(clean(text)):
        if lines and cell_len(lines[-1]) + 1 + cell_len(word) <= width:
            lines[-1] += f" {word}"
        else:
            lines += _broken(word, width)
    return lines


def _broken(word: str, width: int) -> list[str]:
    """A word in pieces that fit; a character wider than the line stands alone."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and cell_len(pieces[-1] + letter) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces
