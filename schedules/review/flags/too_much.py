"""Too much at once: over the day's ration, twice in a round, over the week's target."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from math import ceil

from schedules.planning.problem.weights import FULL_DAY, TOLERANCE
from schedules.review.flags.context import Context
from schedules.review.flags.evidence import Advice, Given, WeekOver
from schedules.review.flags.types import Flag
from schedules.room import Tank
from schedules.room.kinds import Table
from schedules.room.needs import TankClock, clocks_of
from schedules.room.spans import days_within

_TABLES: tuple[Table, ...] = ("fine", "ground", "fan")
ONE_DAY, WEEK = timedelta(days=1), timedelta(days=7)
FAR_OVER: float = 1.5
"""A day above this part of its ration is the worst kind of flag. Common practice, no source."""


def over_ration(context: Context) -> Iterator[Flag]:
    """Days on which the parts of what a tank was given at one table add up to more than a full day."""
    for tank in context.tanks():
        for day in context.days:
            for table in _TABLES:
                yield from _over_at(context, tank, day, table)


def _over_at(context: Context, tank: Tank, day: date, table: Table) -> Iterator[Flag]:
    given = [each for each in context.history.served_on(tank.id, day) if _table(context, each[1].feed) == table]
    total = sum(what.part for _, what in given)
    if total <= FULL_DAY + TOLERANCE:
        return
    yield Flag(
        "over_ration",
        "high" if total > FAR_OVER else "medium",
        tank.id,
        None,
        day,
        Given(tuple(entry for entry, _ in given), total),
        _advice(table, day == context.today),
        total,
    )


def _table(context: Context, feed: str) -> Table:
    """Where a feed is eaten; one that left the stock counts as solid."""
    return context.room.feeds[feed].table if feed in context.room.feeds else "ground"


def _advice(table: Table, today: bool) -> Advice:
    """What can be done: solid feed is taken out, what is dissolved cannot be."""
    if table != "ground":
        return "pause_fine"
    return "stop_today" if today else "look_for_leftovers"


def doubled(context: Context) -> Iterator[Flag]:
    """Feeds given more than once to a tank in one round of one day."""
    for tank in context.tanks():
        for day in context.days:
            given = context.served_on(tank, day)
            times = Counter((what.feed, what.round) for _, what in given)
            for (feed, round_id), count in times.items():
                if count < 2:
                    continue
                same = tuple(entry for entry, what in given if (what.feed, what.round) == (feed, round_id))
                ground = context.room.feeds[feed].table == "ground"
                yield Flag(
                    "doubled",
                    "high",
                    tank.id,
                    feed,
                    day,
                    Given(same, round=round_id),
                    "take_out_or_undo" if ground else "pause_fine_or_undo",
                    count,
                )


def week_over_target(context: Context) -> Iterator[Flag]:
    """Needs answered on two days more of a calendar week (Monday to Sunday) than their target, or on more."""
    mondays = sorted({day - timedelta(days=day.weekday()) for day in context.days})
    for tank in context.tanks():
        for clock in clocks_of(context.room, tank).values():
            per_week = clock.rules.per_week
            if per_week is None:
                continue
            served = [found for feed in clock.feeds for found in context.served(tank, context.room.feeds[feed])]
            for monday in mondays:
                numbers = days_within(clock.spans, monday, monday + WEEK - ONE_DAY)
                wanted = {monday + timedelta(days=number) for number in numbers}
                week = {entry.day: what.feed for entry, what in served if entry.day in wanted}
                target = per_week * len(wanted) / WEEK.days
                if len(week) > ceil(target - TOLERANCE) + 1:
                    yield _week_flag(context, tank, clock, week, target)


def _week_flag(context: Context, tank: Tank, clock: TankClock, week: dict[date, str], target: float) -> Flag:
    last = max(week)
    monday = last - timedelta(days=last.weekday())
    evidence = WeekOver(monday, tuple(sorted(week)), clock.feeds, target)
    advice: Advice = "leave_out_this_week" if monday + WEEK > context.today else "keep_to_plan"
    return Flag("week_over_target", "low", tank.id, week[last], last, evidence, advice, len(week))
