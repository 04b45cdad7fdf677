"""What forbids giving a feed: already given, a gap not over yet, or no room left in the day's ration."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from schedules.amounts.ration import given_part, hold_on
from schedules.history import History
from schedules.ledger.entries import Entry
from schedules.planning.problem.weights import FULL_DAY, TOLERANCE
from schedules.room import Room
from schedules.room.needs import clocks_of
from schedules.round.types import Refusal, Rule


def refusal(
    room: Room, history: History, tank: str, feed: str, day: date, share: float, *, beside: float = 0.0
) -> Refusal | None:
    """The first rule that giving a feed to a tank on a day would break, None where it breaks none.

    `share` is the part of the day's ration the serving takes; `beside` what is about to be given with it in one act.
    """
    return (
        _again(history, tank, feed, day)
        or _min_gap(room, history, tank, feed, day)
        or _clock_gap(room, history, tank, feed, day)
        or _leftovers(room, history, tank, feed, day)
        or _ration(room, history, tank, feed, day, share, beside)
    )


def _again(history: History, tank: str, feed: str, day: date) -> Refusal | None:
    given = [entry for entry, what in history.served_on(tank, day) if what.feed == feed]
    return Refusal("again", feed, day, feed, day, given[-1]) if given else None


def _min_gap(room: Room, history: History, tank: str, feed: str, day: date) -> Refusal | None:
    rules = room.tanks[tank].feeds.get(feed) or room.feeds[feed].rules
    return _too_near("min_gap", history, tank, feed, (feed,), day, rules.min_gap)


def _clock_gap(room: Room, history: History, tank: str, feed: str, day: date) -> Refusal | None:
    """A feed of a clock that this one answers, given fewer days away than the clock's shortest gap."""
    clocks = (
        clock for clock in clocks_of(room, room.tanks[tank]).values() if feed in clock.feeds and clock.wanted_on(day)
    )
    found = (_too_near("clock_gap", history, tank, feed, clock.feeds, day, clock.rules.min_gap) for clock in clocks)
    return next((each for each in found if each is not None), None)


def _too_near(
    rule: Rule, history: History, tank: str, feed: str, feeds: Iterable[str], day: date, gap: int
) -> Refusal | None:
    near = _nearest(history, tank, feeds, day)
    if near is None or abs((day - near[0]).days) >= gap:
        return None
    return Refusal(rule, feed, day, near[1], near[0], near[2], gap)


def _leftovers(room: Room, history: History, tank: str, feed: str, day: date) -> Refusal | None:
    hold = hold_on(room, history, tank, room.feeds[feed], day)
    return None if hold is None else Refusal("leftovers", feed, day, hold.feed, hold.since, until=hold.until)


def _ration(
    room: Room, history: History, tank: str, feed: str, day: date, share: float, beside: float
) -> Refusal | None:
    taken = given_part(room, history, tank, room.feeds[feed].table, day) + beside
    if taken + share <= FULL_DAY + TOLERANCE:
        return None
    given = [entry for entry, _ in history.served_on(tank, day)]
    return Refusal("ration", feed, day, entry=given[-1] if given else None, taken=taken, part=share)


_Near = tuple[date, str, Entry | None]


def _nearest(history: History, tank: str, feeds: Iterable[str], day: date) -> _Near | None:
    """The serving of any of these feeds nearest to a day, before or after it, with its entry where that is in reach."""
    found: list[_Near] = []
    for feed in feeds:
        found.extend((entry.day, feed, entry) for entry, _ in history.servings(tank, feed) if entry.day != day)
        before = history.last_before.get((tank, feed))
        if before is not None:
            found.append((before, feed, None))
        found.extend((entry.day, feed, entry) for entry, what in history.served_on(tank, day) if what.feed == feed)
    return min(found, key=lambda near: (abs((day - near[0]).days), near[0], near[1]), default=None)
