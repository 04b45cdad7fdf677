"""Which tanks to look at after the round, and when: solid feed gone or taken out, powder gone under, water clear."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Final, Literal

from schedules.amounts.ration.daily import daily_ration
from schedules.history import History
from schedules.ledger.entries import Entry, Observed
from schedules.room import Feed, Room, Tank
from schedules.room.kinds import Surface

UNDER_MINUTES: Final[dict[Surface, float]] = {"still": 20.0, "rippled": 10.0, "broken": 2.0}
"""How long strewn powder may float. Common practice, no source: on a still surface it floats after a quarter of an
hour, an air stone clears it quickly."""


LARGE: Final = 1.5
"""A solid serving of more than so many rations was a piece too large for the tank: what is left of it is taken out."""
EVENING: Final = time(18)
"""By when the water is to be clear again after a feed that was stirred in. Common practice, no source."""
Look = Literal["gone", "take_out", "under", "clear"]


@dataclass(frozen=True, slots=True)
class LookBack:
    """A tank to look at for a feed, from the instant `at` (aware) on, and what should be so by then.

    `look` is "gone" (nothing is left), "take_out" (what is left of a large piece is taken out), "under" (strewn
    powder has gone under the surface) or "clear" (the water is clear after what was stirred in, once a tank). `passed`
    tells that the time has come; `given` is the entry of the serving.
    """

    tank: str
    feed: str
    at: datetime
    look: Look
    passed: bool
    given: Entry


def look_back(room: Room, history: History, day: date, now: datetime) -> tuple[LookBack, ...]:
    """What to look at for the servings of a day that nobody has reported on yet, by time and then in walking order."""
    found = [each for tank in room.walk for each in _looks(room, history, room.tanks[tank], day, now)]
    place = {tank: number for number, tank in enumerate(room.walk)}
    return tuple(sorted(found, key=lambda each: (each.at, place[each.tank])))


def _looks(room: Room, history: History, tank: Tank, day: date, now: datetime) -> Iterator[LookBack]:
    """What to look at in one tank; of what was stirred into its water only the last."""
    stirred: LookBack | None = None
    for entry, what in history.served_on(tank.id, day):
        feed = room.feeds.get(what.feed)
        due = None if feed is None else _due(room, tank, feed, entry, what.amount_mg)
        if due is None:
            continue
        at, look = due
        found = LookBack(tank.id, what.feed, at, look, at <= now, entry)
        if look == "clear":
            stirred = found
        elif not _reported(history, tank, entry, what.feed):
            yield found
    if stirred is not None and not _reported(history, tank, stirred.given, stirred.feed):
        yield stirred


def _due(room: Room, tank: Tank, feed: Feed, given: Entry, mg: float) -> tuple[datetime, Look] | None:
    """From when on to look at a serving, and for what; None for an extra."""
    rules = tank.feeds.get(feed.id, feed.rules)
    if feed.extra:
        return None
    if not feed.fine:
        large = feed.kind != "mineral" and mg > LARGE * daily_ration(tank, feed, given.day, room).mg
        return given.at + timedelta(hours=rules.gone_after_hours), "take_out" if large else "gone"
    if rules.method == "surface":
        return given.at + timedelta(minutes=UNDER_MINUTES[tank.surface]), "under"
    return max(given.at, datetime.combine(given.day, EVENING, room.zone)), "clear"


def _reported(history: History, tank: Tank, given: Entry, feed: str) -> bool:
    """Whether leftovers of a serving were reported after it, on its day or the next."""
    return any(
        isinstance(entry.what, Observed) and entry.what.feed == feed and entry.seq > given.seq
        for day in (given.day, given.day + timedelta(days=1))
        for entry in history.about(tank.id, day)
    )
