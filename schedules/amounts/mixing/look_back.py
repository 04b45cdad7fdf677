"""Which tanks to look at after the round, and when: solid feed gone or taken out, strewn powder gone under."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final, Literal

from schedules.amounts.ration.daily import daily_ration
from schedules.history import History
from schedules.ledger.entries import Entry, Observed, Served
from schedules.room import Feed, Room, Tank
from schedules.room.kinds import Surface

UNDER_MINUTES: Final[dict[Surface, float]] = {"still": 20.0, "rippled": 10.0, "broken": 2.0}
"""How long strewn powder may float. Common practice, no source: on a still surface it floats after a quarter of an
hour, an air stone clears it quickly."""


LARGE: Final = 1.5
"""A solid serving of more than so many rations was a piece too large for the tank: what is left of it is taken out."""
Look = Literal["gone", "take_out", "under"]


@dataclass(frozen=True, slots=True)
class LookBack:
    """A tank to look at for a feed, from the instant `at` (aware) on, and what should be so by then.

    `look` is "gone" (nothing is left), "take_out" (what is left of a large piece is taken out) or "under" (strewn
    powder has gone under the surface). `passed` tells that the time has come; `given` is the entry of the serving.
    """

    tank: str
    feed: str
    at: datetime
    look: Look
    passed: bool
    given: Entry


def look_back(room: Room, history: History, day: date, now: datetime) -> tuple[LookBack, ...]:
    """What to look at for the servings of a day that nobody has reported on yet, by time and then in walking order."""
    found = [
        LookBack(tank.id, feed.id, entry.at + after, look, entry.at + after <= now, entry)
        for tank in (room.tanks[tank_id] for tank_id in room.walk)
        for entry, what in history.served_on(tank.id, day)
        if (feed := room.feeds.get(what.feed)) is not None and not _reported(history, tank, entry, what)
        for after, look in _due(room, tank, feed, entry.day, what.amount_mg)
    ]
    place = {tank: number for number, tank in enumerate(room.walk)}
    return tuple(sorted(found, key=lambda each: (each.at, place[each.tank])))


def _due(room: Room, tank: Tank, feed: Feed, day: date, mg: float) -> tuple[tuple[timedelta, Look], ...]:
    rules = tank.feeds.get(feed.id, feed.rules)
    if feed.extra:
        return ()
    if not feed.fine:
        large = feed.kind != "mineral" and mg > LARGE * daily_ration(tank, feed, day, room).mg
        return ((timedelta(hours=rules.gone_after_hours), "take_out" if large else "gone"),)
    if rules.method == "surface":
        return ((timedelta(minutes=UNDER_MINUTES[tank.surface]), "under"),)
    return ()


def _reported(history: History, tank: Tank, given: Entry, what: Served) -> bool:
    """Whether leftovers of a serving were reported after it, on its day or the next."""
    return any(
        isinstance(entry.what, Observed) and entry.what.feed == what.feed and entry.seq > given.seq
        for day in (given.day, given.day + timedelta(days=1))
        for entry in history.about(tank.id, day)
    )
