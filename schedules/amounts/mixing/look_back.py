"""Which tanks to look at after the round, and when: solid feed should be gone, strewn powder should have gone under."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

from schedules.history import History
from schedules.ledger.entries import Entry, Observed, Served
from schedules.room import Feed, FeedRules, Room, Tank
from schedules.room.kinds import Surface

UNDER_MINUTES: Final[dict[Surface, float]] = {"still": 20.0, "rippled": 10.0, "broken": 2.0}
"""How long strewn powder may float. Common practice, no source: on a still surface it floats after a quarter of an
hour, an air stone clears it quickly."""


@dataclass(frozen=True, slots=True)
class LookBack:
    """A tank to look at for a feed, from the instant `at` (aware) on, and what should be seen by then.

    `passed` tells that the time has come; `given` is the entry of the serving it is about.
    """

    tank: str
    feed: str
    at: datetime
    text: str
    passed: bool
    given: Entry


def look_back(room: Room, history: History, day: date, now: datetime) -> tuple[LookBack, ...]:
    """What to look at for the servings of a day that nobody has reported on yet, by time and then in walking order."""
    found = [
        LookBack(tank.id, feed.id, entry.at + after, text, entry.at + after <= now, entry)
        for tank in (room.tanks[tank_id] for tank_id in room.walk)
        for entry, what in history.served_on(tank.id, day)
        if (feed := room.feeds.get(what.feed)) is not None and not _reported(history, tank, entry, what)
        for after, text in _due(tank, feed, tank.feeds.get(feed.id, feed.rules))
    ]
    place = {tank: number for number, tank in enumerate(room.walk)}
    return tuple(sorted(found, key=lambda each: (each.at, place[each.tank])))


def _due(tank: Tank, feed: Feed, rules: FeedRules) -> tuple[tuple[timedelta, str], ...]:
    if not feed.fine:
        return ((timedelta(hours=rules.gone_after_hours), f"{feed.name} should be gone"),)
    if rules.method == "surface":
        minutes = UNDER_MINUTES[tank.surface]
        return ((timedelta(minutes=minutes), f"{feed.name} should have gone under the {tank.surface} surface"),)
    return ()


def _reported(history: History, tank: Tank, given: Entry, what: Served) -> bool:
    """Whether leftovers of a serving were reported after it, on its day or the next."""
    return any(
        isinstance(entry.what, Observed) and entry.what.feed == what.feed and entry.seq > given.seq
        for day in (given.day, given.day + timedelta(days=1))
        for entry in history.about(tank.id, day)
    )
