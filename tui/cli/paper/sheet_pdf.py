"""The helper's sheets as PDF: a first page that says how, then a page for each rack with boxes to tick."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from typing import Final

from schedules.formatting import date_text
from schedules.leave import LeavePlan, RackDay
from schedules.room import Room
from schedules.wording.leave.advice import HOW, NEVER, call_lines
from schedules.wording.leave.sheet import Line, RackSheet, SheetRow, rack_sheets
from tui.cli.paper.document import MARGIN, Document

MOST_VISITS: Final = 7
"""Visits on one page: a fortnight."""
TANK_WIDTH: Final = 27.0
HEAD_HEIGHT: Final = 10.0
LINE: Final = 4.6
BOX: Final = 3.6
FOOT: Final = 31.0
"""Millimetres kept free below the table for what never to do."""


def sheet_pdf(
    room: Room, helper: str, plan: LeavePlan, found: Sequence[RackDay], paper: str, made_at: datetime
) -> bytes:
    """The sheets as a PDF document."""
    title = f"{room.name}: feeding for {helper}"
    document = Document(paper, "landscape", title, made_at)
    _first_page(document, room, title, plan)
    for page in rack_sheets(room, found, MOST_VISITS):
        _rack(document, room, page)
    return document.made()


def _first_page(document: Document, room: Room, title: str, plan: LeavePlan) -> None:
    document.add_page()
    wide = document.w - 2 * MARGIN
    document.put(MARGIN, MARGIN, title, 24, bold=True)
    visits = ", ".join(date_text(day) for day in plan.visits) or "no visit"
    y = document.paragraph(MARGIN, 24, [f"Come on: {visits}"], 15, bold=True, width=wide)
    half = wide / 2 - 4
    document.put(MARGIN, y + 4, "How a visit goes", 18, bold=True, width=half)
    document.paragraph(MARGIN, y + 14, [f"{n}. {line}" for n, line in enumerate(HOW, 1)], 16, width=half)
    right = MARGIN + half + 8
    document.put(right, y + 4, "Never", 18, bold=True, width=half)
    below = document.paragraph(right, y + 14, NEVER, 16, width=half)
    document.put(right, below + 4, "Call", 18, bold=True, width=half)
    document.paragraph(right, below + 14, call_lines(room), 18, width=half)


def _rack(document: Document, room: Room, page: RackSheet) -> None:
    """One rack; where its tanks do not fit on a page, it goes on on the next."""
    rows = list(page.rows)
    head = page.rack
    while True:
        y = _head(document, page, head)
        while rows and y + _height(rows[0]) <= document.h - MARGIN - FOOT:
            y = _row(document, page, rows.pop(0), y)
        _foot(document, room, page)
        if not rows:
            return
        head = f"{page.rack} (goes on)"


def _head(document: Document, page: RackSheet, title: str) -> float:
    document.add_page()
    document.put(MARGIN, MARGIN, title, 20, bold=True)
    y = MARGIN + 12
    wide = _column(document, page)
    document.rect(MARGIN, y, TANK_WIDTH, HEAD_HEIGHT)
    document.put(MARGIN, y + 1, "tank", 11, width=TANK_WIDTH)
    for number, day in enumerate(page.visits):
        x = MARGIN + TANK_WIDTH + number * wide
        document.rect(x, y, wide, HEAD_HEIGHT)
        _day(document, x, y, wide, day)
    return y + HEAD_HEIGHT


def _day(document: Document, x: float, y: float, wide: float, day: date) -> None:
    document.put(x, y + 0.5, date_text(day), 12, bold=True, width=wide)
    document.put(x + wide - 2 * BOX - 13, y + 5.8, "given", 7, width=10, align="R")
    document.put(x + wide - 11.5, y + 5.8, "cloudy", 7, width=11.5, align="R")


def _column(document: Document, page: RackSheet) -> float:
    return (document.w - 2 * MARGIN - TANK_WIDTH) / max(4, len(page.visits))


def _height(row: SheetRow) -> float:
    return max(10.0, 2 + LINE * max(map(len, row.cells)) + 0.5)


def _row(document: Document, page: RackSheet, row: SheetRow, y: float) -> float:
    wide, high = _column(document, page), _height(row)
    document.rect(MARGIN, y, TANK_WIDTH, high)
    document.put(MARGIN, y + 0.3, row.tank, 14, bold=True, width=TANK_WIDTH)
    document.put(MARGIN, y + 6, row.name, 8, width=TANK_WIDTH)
    for number, cell in enumerate(row.cells):
        x = MARGIN + TANK_WIDTH + number * wide
        document.rect(x, y, wide, high)
        if cell:
            _cell(document, x, y, wide, high, cell)
        else:
            document.put(x, y + high / 2 - 2, "–", 10, width=wide, align="C")
    return y + high


def _cell(document: Document, x: float, y: float, wide: float, high: float, cell: Sequence[Line]) -> None:
    top, inner = y + (high - LINE * len(cell)) / 2, wide - 2 * BOX - 2.2
    if len(cell) == 1:
        document.put(x, y + 0.4, cell[0].amount, 12, bold=True, width=inner)
        document.put(x, y + 5.4, cell[0].feed, 8.5, width=inner)
    for number, line in enumerate(cell if len(cell) > 1 else ()):
        end = document.put(x, top + number * LINE, line.amount, 10, bold=True, width=inner)
        document.put(end, top + number * LINE + 0.3, line.feed, 9, width=max(4.0, x + inner - end))
    boxes = y + (high - BOX) / 2
    document.box(x + wide - 2 * BOX - 1.8, boxes, BOX)
    document.box(x + wide - BOX - 0.8, boxes, BOX)


def _foot(document: Document, room: Room, page: RackSheet) -> None:
    y = document.h - MARGIN - FOOT + 2
    wide = document.w - 2 * MARGIN
    if page.notes:
        document.put(MARGIN, y, " ".join(page.notes), 10, bold=True)
    document.paragraph(MARGIN, y + 5, NEVER, 9.5, width=wide)
    document.put(MARGIN, document.h - MARGIN - 6, f"Call {' · '.join(call_lines(room))}", 11, bold=True)
