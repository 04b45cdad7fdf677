"""What a cohort met in its first days in its tank: fine feed, missed rounds, flags, temperature."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from statistics import fmean
from typing import Final

from schedules.history import History
from schedules.review.flags import flags
from schedules.review.survival.cohorts import Cohort
from schedules.review.survival.feeding import FineFeed, fine_feed
from schedules.room import Room
from schedules.water.readings import daily, latest, series

FED_DAYS: Final = (14, 30)
"""The numbers of first days over which fine feed is looked at."""
FIRST_DAYS: Final = FED_DAYS[-1]
"""The first days over which all else is looked at."""
LOOKED_EVERY: Final = 5
EVENING: Final = time(23, 59)


@dataclass(frozen=True, slots=True)
class Conditions:
    """What a cohort met in the tank it hatched in.

    `fed` is the fine feed of its first days by their number (`FED_DAYS`). In its first 30 days so many rounds were due
    at the tank and nothing of them was marked (`missed_rounds`), and so many flags were raised there (`flags`).
    `celsius` is the temperature it began at, None where nobody wrote one down.
    """

    fed: Mapping[int, FineFeed]
    missed_rounds: int
    flags: int
    celsius: float | None


@dataclass(frozen=True, slots=True)
class Together:
    """The conditions of several cohorts: sums over them, and over how many of them."""

    cohorts: int
    fed: Mapping[int, FineFeed]
    missed_rounds: int
    flags: int


def conditions_of(room: Room, history: History, cohort: Cohort) -> Conditions:
    """The conditions of a cohort. `room` holds its animals as they were seen, also long ago; `history` reaches back."""
    fed = {days: fine_feed(room, history, cohort.tank, cohort.day, days) for days in FED_DAYS}
    missed = _missed_rounds(history, cohort.tank, cohort.day)
    return Conditions(fed, missed, _flags(room, history, cohort), temperature(room, history, cohort.tank, cohort.day))


def temperature(room: Room, history: History, tank: str, hatch: date) -> float | None:
    """The mean temperature in °C of a tank in the first 30 days from a hatch on; each day with a reading counts once.

    Where nobody read it then, the last one read before, or what the room file says of the tank.
    """
    if tank not in room.tanks:
        return None
    last = hatch + timedelta(days=FIRST_DAYS - 1)
    read = daily(series(history, tank, "temperature"))
    values = [each.value for each in read if each.day is not None and hatch <= each.day <= last]
    if values:
        return fmean(values)
    before = latest(history, room.tanks[tank], "temperature", hatch)
    return None if before is None else before.value


def together(conditions: Iterable[Conditions]) -> Together:
    """The conditions of several cohorts, summed."""
    listed = tuple(conditions)
    return Together(
        len(listed),
        {days: FineFeed.sum_of(each.fed[days] for each in listed) for days in FED_DAYS},
        sum(each.missed_rounds for each in listed),
        sum(each.flags for each in listed),
    )


def _missed_rounds(history: History, tank: str, hatch: date) -> int:
    """Rounds of the first days, without today's, at which something was due in a tank and nothing of it was marked."""
    missed = 0
    for day in (hatch + timedelta(days=number) for number in range(FIRST_DAYS)):
        if history.first <= day < history.last:
            marked = {(getattr(each.what, "round", None)) for each in history.about(tank, day)}
            missed += len({due.round for due in history.due_in(tank, day)} - marked)
    return missed


def _flags(room: Room, history: History, cohort: Cohort) -> int:
    """How many flags of the tank were there in the first days without today, looked for every fifth day.

    A flag that stands on several of these days counts on each: the same need that waits on is a worse beginning.
    """
    if cohort.tank not in room.tanks:
        return 0
    own = room.only(cohort.tank)
    days = (cohort.day + timedelta(days=number) for number in range(LOOKED_EVERY - 1, FIRST_DAYS, LOOKED_EVERY))
    evenings = (datetime.combine(day, EVENING, room.zone) for day in days if history.first <= day < history.last)
    return sum(len(flags(own, history, evening, LOOKED_EVERY - 1)) for evening in evenings)
