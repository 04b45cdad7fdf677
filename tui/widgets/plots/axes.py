"""Where an axis has its numbers and dates: round steps, as many as there is room for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from math import ceil, floor, log10
from typing import Final

from schedules.formatting import MONTHS

STEPS: Final = (1.0, 2.0, 5.0, 10.0)
DAY_STEPS: Final = (1, 2, 7, 14, 28, 56, 91, 182, 364)
ROWS_A_NUMBER: Final = 3
FEW_ROWS: Final = 9
"""Rows from one number to the next, at least; an axis of few rows has them closer, so that it has two of them."""
CELLS_A_DATE: Final = 10
"""Cells from one date to the next, at least."""


def day_number(at: datetime) -> float:
    """A time as days since the year 1, by the clock it is given in."""
    return at.toordinal() + (at.hour + at.minute / 60) / 24


def round_step(span: float, most: int) -> float:
    """The smallest step of 1, 2 or 5 times a power of ten that goes into a span above 0 at most so many times."""
    least = span / max(1, most)
    power = 10.0 ** floor(log10(least))
    return next(step * power for step in STEPS if step * power >= least * (1 - 1e-9))


def numbers_on(low: float, high: float, rows: int) -> dict[float, str]:
    """The round numbers from low to high with their texts, for an axis of so many rows."""
    step = round_step(high - low, max(2, rows // (ROWS_A_NUMBER if rows > FEW_ROWS else 2)))
    decimals = max(0, -floor(log10(step) + 1e-9))
    first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
    return {number * step: f"{number * step:.{decimals}f}" for number in range(first, last + 1)}


def dates_on(first: datetime, last: datetime, cells: int) -> dict[float, str]:
    """Days from first to last with their texts, for an axis of so many cells; by whole weeks they are Mondays."""
    span = max(1, (last.date() - first.date()).days)
    most = max(1, cells // CELLS_A_DATE)
    step = next((days for days in DAY_STEPS if span / days <= most), span)
    return {float(day.toordinal()): f"{day.day} {MONTHS[day.month - 1]}" for day in _days(first, last, step)}


def _days(first: datetime, last: datetime, step: int) -> Iterator[date]:
    day = first.date() if first.hour == first.minute == 0 else first.date() + timedelta(days=1)
    if step % 7 == 0:
        day += timedelta(days=-day.weekday() % 7)
    while day <= last.date():
        yield day
        day += timedelta(days=step)
