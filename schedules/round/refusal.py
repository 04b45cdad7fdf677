"""What stands against giving a feed: already given, a gap not over yet, or no room left in the day's ration."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from schedules.amounts.ration import given_part, hold_on
from schedules.formatting import clock_text, day_text, days_word, number_text
from schedules.history import History
from schedules.ledger.entries import Entry, Served
from schedules.room import Feed, Room
from schedules.round.types import Refusal
from schedules.rules import FULL_DAY, SHARE_TOLERANCE


def refusal(
    room: Room, history: History, tank: str, feed: str, day: date, share: float, *, beside: float = 0.0
) -> Refusal | None:
    """The first rule that giving a feed to a tank on a day would break, None where it breaks none.

    `share` is the part of the day's ration the serving takes; `beside` what is about to be given with it in one act.
    """
    return (
        _again(room, history, tank, feed, day)
        or _min_gap(room, history, tank, feed, day)
        or _group_gap(room, history, tank, feed, day)
        or _leftovers(room, history, tank, feed, day)
        or _ration(room, history, tank, feed, day, share, beside)
    )


def _again(room: Room, history: History, tank: str, feed: str, day: date) -> Refusal | None:
    given = [entry for entry, what in history.served_on(tank, day) if what.feed == feed]
    return Refusal("again", f"already given {_who(room, given[-1])}") if given else None


def _min_gap(room: Room, history: History, tank: str, feed: str, day: date) -> Refusal | None:
    rules = room.tanks[tank].feeds.get(feed) or room.feeds[feed].rules
    near = _nearest(history, tank, (feed,), day)
    if near is None or abs((day - near[0]).days) >= rules.min_gap:
        return None
    return Refusal("min_gap", f"given {_when(room, near, day)}; {days_word(rules.min_gap)} apart at least")


def _group_gap(room: Room, history: History, tank: str, feed: str, day: date) -> Refusal | None:
    group = room.feeds[feed].group
    if group is None:
        return None
    others = tuple(other.id for other in _group_feeds(room, group) if other.id != feed)
    near = _nearest(history, tank, others, day)
    gap = room.group_gaps[group]
    if near is None or abs((day - near[0]).days) >= gap:
        return None
    other = room.feeds[near[1]].name
    return Refusal("group_gap", f"{other} given {_when(room, near, day)}; {group} {days_word(gap)} apart at least")


def _leftovers(room: Room, history: History, tank: str, feed: str, day: date) -> Refusal | None:
    hold = hold_on(room, history, tank, room.feeds[feed], day)
    if hold is None:
        return None
    left = room.feeds[hold.feed].name
    return Refusal(
        "leftovers",
        f"most of {left} was left {day_text(hold.since, day)}; solid feed waits until {day_text(hold.until, day)}",
    )


def _ration(
    room: Room, history: History, tank: str, feed: str, day: date, share: float, beside: float
) -> Refusal | None:
    taken = given_part(room, history, tank, room.feeds[feed].table, day) + beside
    if taken + share <= FULL_DAY + SHARE_TOLERANCE:
        return None
    given = [entry for entry, _ in history.served_on(tank, day)]
    by = f", last {_who(room, given[-1])}" if given else ""
    return Refusal(
        "ration",
        f"{number_text(taken)} of the day's ration is taken{by}; this is {number_text(share)}, 1 is the most",
    )


def _group_feeds(room: Room, group: str) -> Iterable[Feed]:
    return (feed for feed in room.feeds.values() if feed.group == group)


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


def _who(room: Room, entry: Entry) -> str:
    by = entry.by or "the program"
    return f"by {by} at {clock_text(entry.at, room.zone)}"


def _when(room: Room, near: _Near, day: date) -> str:
    day_said = day_text(near[0], day)
    entry = near[2]
    return day_said if entry is None else f"{day_said} {_who(room, entry)}"


def served_amount(what: Served) -> str:
    """An amount as it was given, in the keeper's own measure."""
    return f"{number_text(what.amount)} {what.unit}"
