"""Too much at once: over the day's ration, twice in a round, over the week's target."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from math import ceil

from schedules.formatting import date_text
from schedules.planning.problem.weights import FULL_DAY, TOLERANCE
from schedules.review.flags.look import Look, given_text
from schedules.review.flags.types import Flag
from schedules.room import Feed, Tank
from schedules.room.kinds import Table
from schedules.room.needs import TankClock, clocks_of
from schedules.room.spans import days_within

_TABLES: tuple[Table, ...] = ("fine", "ground", "fan")
ONE_DAY, WEEK = timedelta(days=1), timedelta(days=7)
FAR_OVER: float = 1.5
"""A day above this part of its ration is the worst kind of flag. Common practice, no source."""


def over_ration(look: Look) -> Iterator[Flag]:
    """Days on which the parts of what a tank was given at one table add up to more than a full day."""
    for tank in look.tanks():
        for day in look.days:
            for table in _TABLES:
                yield from _over_at(look, tank, day, table)


def _over_at(look: Look, tank: Tank, day: date, table: Table) -> Iterator[Flag]:
    given = [each for each in look.history.served_on(tank.id, day) if _table(look, each[1].feed) == table]
    total = sum(what.part for _, what in given)
    if total <= FULL_DAY + TOLERANCE:
        return
    parts = "; ".join(f"{look.feed_name(what.feed)} {what.part:.2f} ({look.when(entry)})" for entry, what in given)
    yield Flag(
        "over_ration",
        "high" if total > FAR_OVER else "medium",
        tank.id,
        None,
        day,
        f"{total:.2f} of the day's ration on {date_text(day)}: {parts}",
        _advice(table, day == look.today),
        total,
    )


def _table(look: Look, feed: str) -> Table:
    """Where a feed is eaten; one that left the stock counts as solid."""
    return look.room.feeds[feed].table if feed in look.room.feeds else "ground"


def _twice(feed: Feed) -> str:
    slip = "undo the mark if it was only written twice."
    if feed.table == "ground":
        return f"Take out what is left of it; {slip}"
    return f"Give no more of it for two days, add air, and watch for haze; {slip}"


def _advice(table: Table, today: bool) -> str:
    """What can be done: solid feed is taken out, what is dissolved cannot be."""
    if table != "ground":
        return "Give no more of it for two days, add air, and watch for haze."
    if today:
        return "Give nothing more today and take out what still lies there this evening."
    return "Look for leftovers and let the next solid feed go if there are any."


def doubled(look: Look) -> Iterator[Flag]:
    """Feeds given more than once to a tank in one round of one day."""
    for tank in look.tanks():
        for day in look.days:
            given = look.served_on(tank, day)
            times = Counter((what.feed, what.round) for _, what in given)
            for (feed, round_id), count in times.items():
                if count < 2:
                    continue
                same = [(entry, what) for entry, what in given if (what.feed, what.round) == (feed, round_id)]
                parts = "; ".join(f"{given_text(what)} ({look.when(entry)})" for entry, what in same)
                yield Flag(
                    "doubled",
                    "high",
                    tank.id,
                    feed,
                    day,
                    f"{look.feed_name(feed)} {count} times in the {round_id} round of {date_text(day)}: {parts}",
                    _twice(look.room.feeds[feed]),
                    count,
                )


def week_over_target(look: Look) -> Iterator[Flag]:
    """Needs answered on two days more of a calendar week (Monday to Sunday) than their target, or on more."""
    mondays = sorted({day - timedelta(days=day.weekday()) for day in look.days})
    for tank in look.tanks():
        for clock in clocks_of(look.room, tank).values():
            per_week = clock.rules.per_week
            if per_week is None:
                continue
            served = [found for feed in clock.feeds for found in look.served(tank, look.room.feeds[feed])]
            for monday in mondays:
                numbers = days_within(clock.spans, monday, monday + WEEK - ONE_DAY)
                wanted = {monday + timedelta(days=number) for number in numbers}
                week = {entry.day: what.feed for entry, what in served if entry.day in wanted}
                target = per_week * len(wanted) / WEEK.days
                if len(week) > ceil(target - TOLERANCE) + 1:
                    yield _week_flag(look, tank, clock, week, target)


def _week_flag(look: Look, tank: Tank, clock: TankClock, week: dict[date, str], target: float) -> Flag:
    days, last = ", ".join(date_text(day) for day in sorted(week)), max(week)
    names = " or ".join(look.feed_name(feed) for feed in clock.feeds)
    monday = last - timedelta(days=last.weekday())
    return Flag(
        "week_over_target",
        "low",
        tank.id,
        week[last],
        last,
        f"{names} on {len(week)} days of the week of {date_text(monday)}, target {target:.3g}: {days}",
        f"Leave {names} out until the next week begins."
        if monday + WEEK > look.today
        else "Keep to the plan this week.",
        len(week),
    )
