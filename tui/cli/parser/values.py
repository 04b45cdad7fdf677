"""Values on the command line: days, moments and numbers, each with the sentence that says what is allowed."""

from __future__ import annotations

from argparse import ArgumentTypeError
from collections.abc import Callable
from datetime import date, datetime
from typing import Final, TypeVar

from schedules.room.place import Place, place_of

FIRST_YEAR: Final = 1970
LAST_YEAR: Final = 2200
"""Years that a day or a moment may lie in: enough for any ledger, and far from where a calendar ends."""


def day(text: str) -> date:
    """A date as YYYY-MM-DD."""
    try:
        return _within(date.fromisoformat(text), text)
    except ValueError:
        raise ArgumentTypeError(f'"{text}" is no date; write YYYY-MM-DD, such as 2026-12-01') from None


def ledger_place(text: str) -> Place:
    """Where a ledger is: a path, or the address of a database."""
    if not text:
        raise ArgumentTypeError("name a path, or an address as postgresql://USER@HOST/DATABASE")
    return place_of(text)


def moment(text: str) -> datetime:
    """A moment as YYYY-MM-DDTHH:MM, with an offset or in the room's zone."""
    try:
        return _within(datetime.fromisoformat(text), text)
    except ValueError:
        raise ArgumentTypeError(f'"{text}" is no moment; write it as 2026-12-01T07:30') from None


Day = TypeVar("Day", bound=date)


def _within(found: Day, text: str) -> Day:
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise ArgumentTypeError(f'"{text}" is too far away; years from {FIRST_YEAR} to {LAST_YEAR} are allowed')
    return found


def number(low: float, high: float, *, or_low: bool = False) -> Callable[[str], float]:
    """A number above `low`, or from it on if `or_low`, and up to `high`."""

    def read(text: str) -> float:
        try:
            value = float(text.replace(",", "."))
        except ValueError:
            value = float("nan")
        if low < value <= high or (or_low and value == low):
            return value
        least = f"from {low:g}" if or_low else f"above {low:g} and"
        raise ArgumentTypeError(f'"{text}" is not a number {least} up to {high:g}')

    return read


def whole(low: int, high: int) -> Callable[[str], int]:
    """A whole number from `low` to `high`."""

    def read(text: str) -> int:
        if text.isascii() and text.isdigit() and low <= int(text) <= high:
            return int(text)
        raise ArgumentTypeError(f'"{text}" is not a whole number from {low} to {high}')

    return read
