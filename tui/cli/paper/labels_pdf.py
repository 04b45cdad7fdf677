"""Labels for cups and boxes as PDF: by day and rack, to be cut along the lines."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from math import ceil
from typing import Final

from schedules.wording.leave.sheet import Label, label_head
from tui.cli.paper.document import MARGIN, Document

ACROSS: Final = 3
HIGH: Final = 36.0
PAD: Final = 1.5
DOSES: Final = 15.2
"""Where on a label its doses begin, mm from above."""
FOOT: Final = 4.2
"""Millimetres at the bottom of a label, for whom it is from and for whom."""
LARGE, SMALL, FEW = 8.0, 6.5, 10
"""Points of the doses; many of them are printed smaller."""
LEADING: Final = 0.45
"""Millimetres from line to line for each point of size."""


def labels_pdf(room_name: str, found: Sequence[Label], people: str, paper: str, made_at: datetime) -> bytes:
    """The labels as a PDF document; `people` says on each by whom it was prepared, and for whom."""
    document = Document(paper, "portrait", f"{room_name}: labels", made_at)
    wide = (document.w - 2 * MARGIN) / ACROSS
    down = int((document.h - 2 * MARGIN) // HIGH)
    for number, label in enumerate(found):
        place = number % (ACROSS * down)
        if place == 0:
            document.add_page()
            _cutting_lines(document, wide, down)
        _label(document, MARGIN + place % ACROSS * wide, MARGIN + place // ACROSS * HIGH, wide, label, people)
    if not found:
        document.add_page()
        document.put(MARGIN, MARGIN, "no cup and no box is needed", 14)
    return document.made()


def _cutting_lines(document: Document, wide: float, down: int) -> None:
    document.set_dash_pattern(dash=1.5, gap=1.5)
    for column in range(ACROSS + 1):
        x = MARGIN + column * wide
        document.line(x, MARGIN - 4, x, MARGIN + down * HIGH + 4)
    for row in range(down + 1):
        y = MARGIN + row * HIGH
        document.line(MARGIN - 4, y, document.w - MARGIN + 4, y)
    document.set_dash_pattern()


def _label(document: Document, x: float, y: float, wide: float, label: Label, people: str) -> None:
    inner = wide - 2 * PAD
    document.put(x + PAD, y + 1, label_head(label), 11, bold=True, width=inner)
    document.put(x + PAD, y + 6.2, label.feed, 9, width=inner)
    document.put(x + PAD, y + 10.4, f"{label.contents}: {label.action}", 9, bold=True, width=inner)
    foot = " · ".join(part for part in (label.strength, people) if part)
    document.put(x + PAD, y + HIGH - FOOT, foot, 7, width=inner)
    size = LARGE if len(label.doses) <= FEW else SMALL
    for number, line in enumerate(_lines(label.doses, size)):
        document.put(x + PAD, y + DOSES + number * size * LEADING, line, size, width=inner)


def _lines(doses: Sequence[str], size: float) -> list[str]:
    """Doses put together into lines, none of them broken; at most as many lines as a label has room for."""
    most = int((HIGH - DOSES - FOOT) / (size * LEADING))
    in_a_line = max(3, ceil(len(doses) / most))
    return ["  ·  ".join(doses[at : at + in_a_line]) for at in range(0, len(doses), in_a_line)]
