"""Too much at once: over the day's ration, twice in a round, over the week's target."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta

from schedules.formatting import date_text
from schedules.review.flags.look import Look, given_text
from schedules.review.flags.types import Flag
from schedules.room import Feed, FeedRules, Tank
from schedules.room.kinds import Table
from schedules.rules import FULL_DAY, SHARE_TOLERANCE

_TABLES: tuple[Table, ...] = ("fine", "ground", "fan")
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
    if total <= FULL_DAY + SHARE_TOLERANCE:
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
    """Feeds given in a calendar week (Monday to Sunday) more often than its target by more than a serving."""
    mondays = sorted({day - timedelta(days=day.weekday()) for day in look.days})
    for tank in look.tanks():
        for feed, rules in look.known(tank):
            served = [entry.day for entry, _ in look.served(tank, feed)]
            for monday in mondays:
                week = [day for day in served if monday <= day < monday + timedelta(days=7)]
                if len(week) < 2:
                    continue
                target = week_target(tank, feed, rules, monday)
                if len(week) > target + 1 + SHARE_TOLERANCE:
                    yield _week_flag(look, tank, feed, week, target)


def week_target(tank: Tank, feed: Feed, rules: FeedRules, monday: date) -> float:
    """Servings that a whole week asks for: the weekly target by the part of its days on which the feed is wanted."""
    days = (monday + timedelta(days=number) for number in range(7))
    wanted = sum(1 for day in days if tank.stages(day) & feed.stages)
    return rules.per_week * wanted / 7


def _week_flag(look: Look, tank: Tank, feed: Feed, week: list[date], target: float) -> Flag:
    days = ", ".join(date_text(day) for day in week)
    return Flag(
        "week_over_target",
        "low",
        tank.id,
        feed.id,
        week[-1],
        f"{feed.name} {len(week)} times in the week of {date_text(week[0] - timedelta(days=week[0].weekday()))}, "
        f"target {target:.3g}: {days}",
        f"Leave {feed.name} out until the next week begins."
        if week[-1] > look.today - timedelta(days=look.today.weekday() + 1)
        else f"Keep to the plan for {feed.name} this week.",
        len(week),
    )
