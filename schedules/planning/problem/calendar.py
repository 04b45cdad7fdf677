"""Weeks and runs of wanted days: what the rules count by."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from schedules.planning.problem.types import Clock, Problem

DAYS_A_WEEK = 7


@dataclass(frozen=True, slots=True)
class Week:
    """A calendar week that touches a plan: its days inside the plan, and whether its Sunday is one of them."""

    first: int
    last: int
    whole: bool


def weeks(problem: Problem) -> list[Week]:
    """The calendar weeks (Monday to Sunday) that touch a plan, in order."""
    found = []
    first, sunday = 0, DAYS_A_WEEK - 1 - problem.start.weekday()
    while first < problem.days:
        found.append(Week(first, min(sunday, problem.days - 1), sunday < problem.days))
        first, sunday = sunday + 1, sunday + DAYS_A_WEEK
    return found


def run_starts(clock: Clock, days: int) -> list[int | None]:
    """For each day the first day of the run of wanted days it lies in, None where it is not wanted."""
    wanted = set(clock.wanted)
    starts: list[int | None] = []
    for day in range(days):
        if day not in wanted:
            starts.append(None)
        elif day == 0:
            starts.append(clock.wanted_since if clock.wanted_since is not None else 0)
        else:
            before = starts[-1]
            starts.append(day if before is None else before)
    return starts


def week_targets(clock: Clock, problem: Problem) -> Iterator[tuple[Week, int, float]]:
    """For each whole week of a clock with a target: the week, days answered before day 0, and the target in days."""
    if clock.per_week is None:
        return
    for week in weeks(problem):
        if week.whole:
            earlier = week.first == 0
            count = sum(1 for day in clock.wanted if week.first <= day <= week.last)
            count += clock.earlier_wanted if earlier else 0
            yield week, clock.earlier_days if earlier else 0, clock.per_week * count / DAYS_A_WEEK
