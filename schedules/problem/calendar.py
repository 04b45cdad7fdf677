"""What the rules need to know of a problem's days: weeks, and the runs of wanted days."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import lru_cache

from schedules.problem.types import TankFeed

SUNDAY = 6


@dataclass(frozen=True, slots=True)
class Week:
    """The days of one calendar week (Monday to Sunday) that lie in the plan, both included."""

    first: int
    last: int
    whole: bool
    """Whether the week's Sunday lies in the plan: only then is the week's target counted."""


@lru_cache(maxsize=256)
def weeks(weekday: int, days: int) -> tuple[Week, ...]:
    """The calendar weeks of a plan of `days` days whose day 0 is `weekday` (Monday is 0)."""
    found: list[Week] = []
    first = 0
    while first < days:
        sunday = first + SUNDAY - (weekday + first) % 7
        found.append(Week(first, min(sunday, days - 1), sunday < days))
        first = sunday + 1
    return tuple(found)


def week_target(feed: TankFeed, week: Week) -> float:
    """How many servings of a feed a calendar week asks for: `per_week` × its wanted days ÷ 7.

    The week of day 0 also counts its wanted days before day 0.
    """
    wanted = bisect_right(feed.wanted, week.last) - bisect_left(feed.wanted, week.first)
    if week.first == 0:
        wanted += feed.wanted_this_week
    return feed.per_week * wanted / 7


def given_before(feed: TankFeed, week: Week) -> int:
    """How many servings of a feed a week had before day 0."""
    return feed.given_this_week if week.first == 0 else 0


def clock_starts(feed: TankFeed, days: int) -> list[int | None]:
    """For each day the day before the current run of wanted days began, None where the day is not wanted."""
    starts: list[int | None] = [None] * days
    for day in feed.wanted:
        before = starts[day - 1] if day > 0 else None
        if before is not None:
            starts[day] = before
        elif day == 0 and feed.wanted_since is not None:
            starts[day] = feed.wanted_since - 1
        else:
            starts[day] = day - 1
    return starts
