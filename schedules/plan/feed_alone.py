"""One feed in one tank by itself: what each state costs from a day on, exactly, by backward induction.

A feed alone knows two things: how many days ago it was last given (its age) and how many servings this week has had.
Shares, rotation groups and the other feeds of the tank are left out, so the cost is a lower bound for the feed.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from schedules.problem.calendar import clock_starts, week_target, weeks
from schedules.problem.types import TankFeed
from schedules.rules import WEIGHTS

Row = list[float]


class Regret(NamedTuple):
    """Serving a feed on a day instead of not serving it, by state: `gain[count][age - 1]`, negative where it pays."""

    open: bool
    gain: list[Row]


class FeedAlone(NamedTuple):
    """The tables of one feed: `regrets` by day, the cap on ages, the cap on a week's count."""

    regrets: list[Regret]
    oldest: int
    most: int


def oldest_age(feed: TankFeed) -> int:
    """The age beyond which no rule tells ages apart."""
    return max(feed.min_gap, feed.max_gap, 1)


@lru_cache(maxsize=4096)
def feed_alone(feed: TankFeed, weekday: int, days: int, minute_price: float) -> FeedAlone:
    """The tables of one feed over a plan whose day 0 is `weekday`, each minute of handling priced alike."""
    oldest = oldest_age(feed)
    most = (7 + max(feed.min_gap, 1) - 1) // max(feed.min_gap, 1)
    starts = clock_starts(feed, days)
    opened = set(feed.open)
    counts = range(most + 1)
    value: list[Row] = [[0.0] * oldest for _ in counts]
    regrets: list[Regret] = [Regret(False, [])] * days
    serve = minute_price * feed.minutes
    for week in reversed(weeks(weekday, days)):
        for day in range(week.last, week.first - 1, -1):
            if day == week.last:
                value = _week_begins(value[0], week_target(feed, week) if week.whole else None, most)
            start = starts[day]
            late = feed.max_gap if start is not None and day - start >= feed.max_gap else oldest + 1
            skipped = [_a_day_older(row, late) for row in value]
            if day in opened:
                given = [serve + value[min(count + 1, most)][0] for count in counts]
                gain = [[gift - cost for cost in row] for gift, row in zip(given, skipped, strict=True)]
                regrets[day] = Regret(True, gain)
                young = max(feed.min_gap, 1) - 1
                value = [
                    row[:young] + [cost if cost < gift else gift for cost in row[young:]]
                    for gift, row in zip(given, skipped, strict=True)
                ]
            else:
                value = skipped
    return FeedAlone(regrets, oldest, most)


def _week_begins(fresh: Row, target: float | None, most: int) -> list[Row]:
    """The values after a week's last day: the distance from the target is due, the next week's count is 0."""
    if target is None:
        return [fresh] * (most + 1)
    return [[WEIGHTS.weekly * abs(count - target) + cost for cost in fresh] for count in range(most + 1)]


def _a_day_older(row: Row, late: int) -> Row:
    """The values of not serving: tomorrow's at one day older, and a day overdue from age `late` on."""
    older = [*row[1:], row[-1]]
    return [cost + WEIGHTS.overdue if age >= late else cost for age, cost in enumerate(older, start=1)]
