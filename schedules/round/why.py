"""Why a feed is due in a tank on a day, in a few words read off its rules and the ledger."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from schedules.formatting import days_word, number_text
from schedules.history import History
from schedules.ledger.entries import PostedServing
from schedules.room import Room
from schedules.room.kinds import ACCOMPANIED


def why_due(
    room: Room, history: History, tank_id: str, feed_id: str, day: date, beside: Iterable[PostedServing]
) -> str:
    """How long ago the feed was given against its longest gap, its place in the week, and whom it draws away.

    `beside` is all that is due in the tank on that day.
    """
    tank = room.tanks[tank_id]
    feed, rules = room.feeds.get(feed_id), tank.feeds.get(feed_id)
    if feed is None or rules is None:
        return "posted this morning; no longer in the room file"
    last = history.last_day(tank_id, feed_id, day)
    parts = [
        "never given here yet" if last is None else f"last {days_word((day - last).days)} ago, at most {rules.max_gap}"
    ]
    monday = day - timedelta(days=day.weekday())
    given = sum(monday <= entry.day < day for entry, _ in history.servings(tank_id, feed_id))
    parts.append(f"{given} of {number_text(rules.per_week)} this week")
    if not feed.fine and "adult" in tank.stages(day) and _powder_among(room, beside):
        parts.append("draws the adults from the powder")
    return "; ".join(parts)


def _powder_among(room: Room, servings: Iterable[PostedServing]) -> bool:
    """Whether a feed that adults would take from the shrimplets is among these servings."""
    return any(due.feed in room.feeds and room.feeds[due.feed].kind in ACCOMPANIED for due in servings)
