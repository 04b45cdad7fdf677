"""What a tank got in the last days, as a strip: a row for each feed, a column for each day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from textual.content import Content

from schedules.formatting import WEEKDAYS, measurable, measures_text, mg_text
from schedules.ledger import Entry, Observed, Served, Skipped
from schedules.room import Tank
from schedules.session.session import Session
from tui.widgets.cells import fit, short

NAME: Final = 16
DAY: Final = 6
"""Cells of a feed's name and of a day."""
SIGNS: Final = {"given": "■", "skipped": "x", "missed": "?", "due": "o", "": "·"}
"""What happened to a feed on a day, in one cell: given, skipped, missed, due, nothing."""


def days_that_fit(width: int, most: int) -> int:
    """How many days a strip of amounts shows in a width."""
    return max(3, min(most, (width - NAME) // DAY))


def rows_of(session: Session, tank: Tank, days: list[date]) -> Iterator[tuple[str, list[Entry | str | None]]]:
    """For each feed with something to show: its name, and for each day the mark, `due`, `missed` or None."""
    got = {
        (entry.day, what.feed): entry
        for day in days
        for entry in session.history.about(tank.id, day)
        if isinstance(what := entry.what, Served | Skipped)
    }
    due = {(day, serving.feed) for day in days for serving in session.history.due_in(tank.id, day)}
    for feed in session.room.feeds.values():
        cells: list[Entry | str | None] = []
        for day in days:
            open_word = "due" if day == session.day else "missed"
            cells.append(got.get((day, feed.id)) or (open_word if (day, feed.id) in due else None))
        if any(cell is not None for cell in cells):
            yield feed.name, cells


def strip_lines(session: Session, tank: Tank, width: int, most: int) -> list[Content]:
    """The strip with amounts, as many days as fit and at most `most`."""
    days = last_days(session.day, days_that_fit(width, most))
    heads = "".join(f"{WEEKDAYS[day.weekday()]:>{DAY}}" for day in days[:-1]) + f"{'today':>{DAY}}"
    rows = [Content.styled(f"{'lately':<{NAME}}{heads}", "$quiet")]
    for name, cells in rows_of(session, tank, days):
        row = [Content(fit(short(name, NAME - 1), NAME))]
        for cell in cells:
            text, style = _amount(cell, plain=session.room.tools.plain)
            row.append(Content.styled(fit(text, DAY, right=True), style))
        rows.append(Content("").join(row))
    return rows


def sign_lines(session: Session, tank: Tank, days: list[date]) -> list[Content]:
    """The strip with one sign a day, two cells each, for weeks at a glance."""
    rows = []
    for name, cells in rows_of(session, tank, days):
        signs = "".join(f"{SIGNS[_word(cell)]} " for cell in cells)
        rows.append(Content(fit(short(name, NAME - 1), NAME) + signs))
    return rows


def leftovers_on(session: Session, tank: Tank, days: list[date]) -> list[str]:
    """The most that was found lying on each day: empty where nobody looked."""
    rank = ("", "none", "some", "most")
    return [
        max(
            (entry.what.leftovers for entry in session.history.about(tank.id, day) if isinstance(entry.what, Observed)),
            key=rank.index,
            default="",
        )
        for day in days
    ]


def last_days(today: date, count: int) -> list[date]:
    """The last `count` days up to today."""
    return [today - timedelta(days=back) for back in range(count - 1, -1, -1)]


def _word(cell: Entry | str | None) -> str:
    if isinstance(cell, Entry):
        return "given" if isinstance(cell.what, Served) else "skipped"
    return cell or ""


def _amount(cell: Entry | str | None, *, plain: bool) -> tuple[str, str]:
    """A cell's text and its style."""
    if isinstance(cell, Entry) and isinstance(cell.what, Served):
        what = cell.what
        if measurable(what.amount) or plain:
            return measures_text(what.amount), ""
        return mg_text(what.amount_mg).replace(" ", ""), ""
    word = _word(cell)
    texts = {"skipped": "skip", "missed": "miss", "due": "due", "": "·"}
    return texts[word], {"missed": "$warning", "due": "bold"}.get(word, "$quiet")
