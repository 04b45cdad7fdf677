"""Windows: on which days a turn of a chore may be done, by its calendar or by when it was last done."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from datetime import date, timedelta
from functools import lru_cache
from typing import Final

from schedules.chores.types import Window
from schedules.room import Room
from schedules.room.chores import Chore
from schedules.room.days_off import is_day_off, is_off
from schedules.room.recurrence import rule_days

YEARS_AHEAD: Final = 8
"""A rule that names no day for so many years has ended, as far as anybody cares: 29 February comes within eight."""
DAY: Final = timedelta(days=1)


def period(chore: Chore) -> int:
    """Days between two turns of an `every` chore that is done on the last day of each window."""
    return (chore.every or 1) + chore.within - 1


def calendar_window(chore: Chore, day: date) -> Window | None:
    """The window around a day by the calendar alone, whatever was done; None where none holds the day.

    An `every` chore has the calendar that it keeps where each turn is done on the last day of its window.
    """
    if chore.begins is None:
        return None
    if chore.rule is None:
        return _counted(chore, chore.begins, day)
    turns = _rule_days(chore, day - (chore.within - 1) * DAY, day)
    return _of_rule(chore, turns[-1]) if turns else None


def next_window(chore: Chore, settled: date | None) -> Window | None:
    """The window of the turn after the day on which the chore was last settled; of the first where it never was."""
    if chore.begins is None:
        return None
    if chore.every is not None:
        first = chore.begins if settled is None else settled + chore.every * DAY
        return Window(first, first + (chore.within - 1) * DAY)
    turn = _first_after(chore, chore.begins - DAY if settled is None else settled)
    return None if turn is None else _of_rule(chore, turn)


def turns_between(chore: Chore, first: date, last: date) -> int:
    """How many turns of its calendar a rule has on the days from `first` to `last`; 0 for any other chore."""
    return 0 if chore.rule is None or first > last else len(_rule_days(chore, first, last))


def days_of(room: Room, chore: Chore, window: Window) -> tuple[date, ...]:
    """The days of a window on which somebody comes who does the chore; all of them where nobody ever does."""
    days = tuple(window.first + number * DAY for number in range((window.last - window.first).days + 1))
    return tuple(day for day in days if not _nobody(room, chore, day)) or days


def _nobody(room: Room, chore: Chore, day: date) -> bool:
    own = [keeper for keeper in room.keepers if keeper.name in chore.by]
    return is_day_off(room, day) or (bool(own) and all(is_off(keeper, day) for keeper in own))


def _counted(chore: Chore, begins: date, day: date) -> Window | None:
    behind = (day - begins).days
    offset = behind % period(chore)
    if behind < 0 or offset >= chore.within:
        return None
    first = day - offset * DAY
    return Window(first, first + (chore.within - 1) * DAY)


def _of_rule(chore: Chore, turn: date) -> Window:
    """The window of a turn of a rule: so many days, and never into the next turn."""
    last = turn + (chore.within - 1) * DAY
    following = _rule_days(chore, turn + DAY, last)
    return Window(turn, following[0] - DAY if following else last)


def _rule_days(chore: Chore, first: date, last: date) -> list[date]:
    """The days that a chore's rule names from `first` to `last`, in order."""
    found: list[date] = []
    for year in range(first.year, last.year + 1):
        days = _year(chore, year)
        found += days[bisect_left(days, first) : bisect_right(days, last)]
    return found


def _first_after(chore: Chore, day: date) -> date | None:
    start = max(day.year, chore.begins.year if chore.begins else day.year)
    found = (each for year in range(start, start + YEARS_AHEAD + 1) for each in _year(chore, year) if each > day)
    return next(found, None)


def _year(chore: Chore, year: int) -> tuple[date, ...]:
    assert chore.rule is not None and chore.begins is not None
    return _in_order(chore.rule, chore.begins, year)


@lru_cache(maxsize=1024)
def _in_order(rule: str, begins: date, year: int) -> tuple[date, ...]:
    return tuple(sorted(rule_days(rule, begins, year)))
