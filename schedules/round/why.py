"""Why a feed is due in a tank on a day, read off the tank's needs and the ledger."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from schedules.history import History
from schedules.history.answers import days_answered, last_answered
from schedules.ledger.entries import PostedServing
from schedules.room import Feed, Room, Tank
from schedules.room.kinds import ACCOMPANIED
from schedules.room.needs import TankClock, clocks_of
from schedules.round.types import Why


def why_due(
    room: Room, history: History, tank_id: str, feed_id: str, day: date, beside: Iterable[PostedServing]
) -> Why:
    """How long ago the need was answered against its longest gap, its place in the week, and whom it draws away.

    `beside` is all that is due in the tank on that day.
    """
    tank = room.tanks[tank_id]
    feed = room.feeds.get(feed_id)
    if feed is None or feed_id not in tank.feeds:
        return Why("no_feed")
    draws = feed.draws and "adult" in tank.stages(day) and _powder_among(room, beside)
    return replace(_answered(room, history, tank, feed, day), draws=draws)


def _answered(room: Room, history: History, tank: Tank, feed: Feed, day: date) -> Why:
    """How long ago the most pressing need that the feed answers was answered, and its place in the week."""
    clocks = {name: clock for name, clock in clocks_of(room, tank).items() if feed.id in clock.feeds}
    timed = {name: clock for name, clock in clocks.items() if clock.rules.max_gap is not None} or clocks
    if not timed:
        return Why("no_need")
    name = min(timed, key=lambda each: _days_left(history, tank, timed[each], day))
    clock = timed[name]
    last = last_answered(history, tank.id, clock.feeds, day)
    monday = day - timedelta(days=day.weekday())
    return Why(
        "due",
        need=name,
        days_ago=None if last is None else (day - last[0]).days,
        max_gap=clock.rules.max_gap,
        this_week=len(days_answered(history, tank.id, clock.feeds, monday, day - timedelta(days=1))),
        per_week=clock.rules.per_week,
    )


def _days_left(history: History, tank: Tank, clock: TankClock, day: date) -> int:
    last = last_answered(history, tank.id, clock.feeds, day)
    return -1 if last is None else (clock.rules.max_gap or 0) - (day - last[0]).days


def _powder_among(room: Room, servings: Iterable[PostedServing]) -> bool:
    """Whether a feed that adults would take from the shrimplets is among these servings."""
    return any(due.feed in room.feeds and room.feeds[due.feed].kind in ACCOMPANIED for due in servings)
