"""Holding back the next solid feed after most of one was left. Two days: common practice, no source."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from schedules.history import History
from schedules.ledger.entries import Observed
from schedules.room import Feed, Room

HOLD_DAYS: Final = 2


@dataclass(frozen=True, slots=True)
class Hold:
    """No solid feed goes into a tank before the day `until`, since most of `feed` was left on the day `since`."""

    feed: str
    since: date
    until: date


def hold_on(room: Room, history: History, tank: str, feed: Feed, day: date) -> Hold | None:
    """What holds a feed back from a tank on a day: None for fine feeds, and where no solid feed was mostly left.

    The day of the report and the day after it are held. A later report of that feed as clean ends it.
    """
    if feed.fine:
        return None
    held: dict[str, Hold] = {}
    for ago in range(HOLD_DAYS - 1, -1, -1):
        reported_on = day - timedelta(days=ago)
        for entry in history.about(tank, reported_on):
            if not isinstance(entry.what, Observed):
                continue
            seen = room.feeds.get(entry.what.feed)
            if entry.what.leftovers == "most" and seen is not None and not seen.fine:
                held[seen.id] = Hold(seen.id, reported_on, reported_on + timedelta(days=HOLD_DAYS))
            elif entry.what.leftovers == "none":
                held.pop(entry.what.feed, None)
    return max(held.values(), key=lambda hold: hold.until, default=None)
