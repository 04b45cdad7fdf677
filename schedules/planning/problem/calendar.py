"""Weeks and runs of wanted days: what the rules count by.

Many clocks of a room share their days, so what follows from the days alone is worked out once.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from schedules.planning.problem.types import Clock, Problem

DAYS_A_WEEK = 7


@dataclass(frozen=True, slots=True)
class Week:
    """A calendar week that touches a plan: its days inside the plan, and whether its Sunday is one of them."""

    first: int
    last: int
    whole: bool

    def count(self, days: Sequence[int]) -> int:
        """How many of these ascending days lie in the week."""
        return bisect_right(days, self.last) - bisect_left(days, self.first)


def weeks(problem: Problem) -> tuple[Week, ...]:
    """The calendar weeks (Monday to Sunday) that touch a plan, in order."""
    return _weeks(problem.start.weekday(), problem.days)


def run_starts(clock: Clock, days: int) -> tuple[int | None, ...]:
    """For each day the first day of the run of wanted days it lies in, None where it is not wanted."""
    return _run_starts(clock.wanted, clock.wanted_since, days)


def week_targets(clock: Clock, problem: Problem) -> Iterator[tuple[Week, int, float]]:
    """For each whole week of a clock with a target: the week, days answered before day 0, and the target in days."""
    if clock.per_week is None:
        return
    for week in weeks(problem):
        if week.whole:
            earlier = week.first == 0
            count = week.count(clock.wanted) + (clock.earlier_wanted if earlier else 0)
            yield week, clock.earlier_days if earlier else 0, clock.per_week * count / DAYS_A_WEEK


@lru_cache(maxsize=16)
def _weeks(weekday: int, days: int) -> tuple[Week, ...]:
    found = []
    first, sunday = 0, DAYS_A_WEEK - 1 - weekday
    while first < days:
        found.append(Week(first, min(sunday, days - 1), sunday < days))
        first, sunday = sunday + 1, sunday + DAYS_A_WEEK
    return tuple(found)


@lru_cache(maxsize=1024)
def _run_starts(wanted: tuple[int, ...], since: int | None, days: int) -> tuple[int | None, ...]:
    known = set(wanted)
    starts: list[int | None] = []
    for day in range(days):
        if day not in known:
            starts.append(None)
        elif day == 0:
            starts.append(since if since is not None else 0)
        else:
            before = starts[-1]
            starts.append(day if before is None else before)
    return tuple(starts)
