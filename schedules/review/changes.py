"""What was different in a tank and its rack in the last days: where to look when animals die."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final, Literal, get_args

from schedules.history import History
from schedules.ledger import (
    Entry,
    Noted,
    Observed,
    Opened,
    SaltAdded,
    Served,
    Sighting,
    Skipped,
    WaterAdded,
    WaterChanged,
    tank_of,
)
from schedules.room import Room
from schedules.water.watch import Finding, rack_findings

ChangeKind = Literal[
    "dead",
    "arrived",
    "water_read",
    "water_changed",
    "water_added",
    "salt_added",
    "new_feed",
    "opened",
    "extra",
    "missed",
    "leftovers",
    "keeper",
    "animals",
    "note",
]
ORDER: Final[tuple[ChangeKind, ...]] = get_args(ChangeKind)


@dataclass(frozen=True, slots=True)
class Difference:
    """Something that happened in a tank, or (tank None) on the rounds past its rack, on a day.

    `entry` says it, except for `missed`, `keeper` and `water_read`, of which `finding` says it. `what` is a feed, a
    keeper's name, a quantity, a make-up water or a salt, where it is about one. `shared` is in how many of the rack's
    tanks with deaths the same happened.

    - `dead`: deaths; `arrived`: animals or new stock that came in; `animals`: other sightings.
    - `new_feed`: given here for the first time ever; `extra`: given against a rule; `missed`: due, and nothing marked.
    - `water_read`: a reading that left the tank's own past; `water_changed`, `water_added`, `salt_added`: as named.
    - `opened`: a pack was opened and given here, before another one of that feed was.
    - `leftovers`: some or most of a feed was left; `keeper`: somebody who did no round here in the time before.
    """

    kind: ChangeKind
    day: date
    tank: str | None
    what: str | None = None
    entry: Entry | None = None
    shared: int = 0
    finding: Finding | None = None

    @property
    def lot(self) -> str | None:
        """The lot of a pack that was opened, as the pack names it."""
        return self.entry.what.lot if self.entry is not None and isinstance(self.entry.what, Opened) else None


def differences(room: Room, history: History, tank: str, today: date, days: int) -> tuple[Difference, ...]:
    """What differed in a tank and its rack in the `days` days up to today; `history` reaches back twice as far.

    What several tanks with deaths have in common comes first, then by kind and day; of other tanks of the rack only
    what the troubled ones share, or what came in.
    """
    first = today - timedelta(days=days - 1)
    rack = next(rack for rack in room.racks if rack.id == room.tanks[tank].rack)
    found = [
        each
        for of in rack.tanks
        for source in SOURCES
        for each in source(room, history, of, first, today)
        if first <= each.day <= today
    ]
    troubled = {each.tank for each in found if each.kind == "dead"} | {tank}
    tanks: dict[tuple[str | None, ...], set[str]] = {}
    for each in found:
        if each.tank in troubled and each.tank is not None:
            tanks.setdefault(_same(each), set()).add(each.tank)
    counted = [replace(each, shared=len(tanks.get(_same(each), ()))) for each in found]
    kept = [each for each in counted if each.tank == tank or each.kind in ("dead", "arrived") or each.tank in troubled]
    kept += _new_keepers(history, rack.tanks, first, today)
    return tuple(sorted(kept, key=lambda each: (-each.shared, ORDER.index(each.kind), each.day, each.tank or "")))


def _same(each: Difference) -> tuple[str | None, ...]:
    """What makes two differences the same in several tanks: kind and subject, and of a pack its lot."""
    return each.kind, each.what, each.lot


def _fed_and_seen(room: Room, history: History, tank: str, first: date, today: date) -> Iterator[Difference]:
    day = first
    while day <= today:
        about = history.about(tank, day)
        for entry in about:
            yield from _of_entry(history, tank, day, entry)
        if day < today:
            marked = {entry.what.feed for entry in about if isinstance(entry.what, Served | Skipped)}
            due = {each.feed for each in history.due_in(tank, day) if each.feed in room.feeds}
            yield from (Difference("missed", day, tank, feed) for feed in sorted(due - marked))
        day += timedelta(days=1)


def _moved_in(_room: Room, history: History, tank: str, _first: date, _today: date) -> Iterator[Difference]:
    for entry in history.entries:
        if isinstance(entry.what, Sighting) and entry.what.to == tank:
            yield Difference("arrived", entry.day, tank, None, entry)


def _opened(_room: Room, history: History, tank: str, first: date, today: date) -> Iterator[Difference]:
    """Packs of which the tank got something: on the day they were opened, or later and before the next one was."""
    packs = [(entry, entry.what) for entry in history.entries if isinstance(entry.what, Opened)]
    for entry, pack in packs:
        if first <= entry.day <= today:
            later = (other.day for other, of in packs if of.feed == pack.feed and other.day > entry.day)
            until = min(later, default=today + timedelta(days=1))
            if any(entry.day <= given.day < until for given, _ in history.servings(tank, pack.feed)):
                yield Difference("opened", entry.day, tank, pack.feed, entry)


def _read(room: Room, history: History, tank: str, _first: date, today: date) -> Iterator[Difference]:
    """Readings that left the tank's own past, alone or with others of its rack."""
    for finding in rack_findings(room, history, room.tanks[tank].rack, today):
        if tank in (finding.tank, *finding.tanks):
            yield Difference("water_read", finding.day, tank, finding.quantity, finding=finding)


def _water(_room: Room, history: History, tank: str, _first: date, _today: date) -> Iterator[Difference]:
    for entry in history.water_of(tank):
        match entry.what:
            case WaterChanged(source=source):
                yield Difference("water_changed", entry.day, tank, source, entry)
            case WaterAdded(source=source):
                yield Difference("water_added", entry.day, tank, source, entry)
            case SaltAdded(salt=salt):
                yield Difference("salt_added", entry.day, tank, salt, entry)


SOURCES: Final = (_fed_and_seen, _moved_in, _opened, _read, _water)
"""Where differences of one tank come from, each a function of room, history, tank, first day and today."""


def _of_entry(history: History, tank: str, day: date, entry: Entry) -> Iterator[Difference]:
    match entry.what:
        case Sighting(saw="dead"):
            yield Difference("dead", day, tank, None, entry)
        case Sighting(saw="added"):
            yield Difference("arrived", day, tank, None, entry)
        case Sighting():
            yield Difference("animals", day, tank, None, entry)
        case Served(feed=feed, broke=broke):
            if history.first_ever.get((tank, feed)) == day:
                yield Difference("new_feed", day, tank, feed, entry)
            if broke is not None:
                yield Difference("extra", day, tank, feed, entry)
        case Observed(feed=feed, leftovers=left) if left != "none":
            yield Difference("leftovers", day, tank, feed, entry)
        case Noted():
            yield Difference("note", day, tank, None, entry)


def _new_keepers(history: History, tanks: Iterable[str], first: date, today: date) -> list[Difference]:
    """Keepers who fed at these tanks from a day on, and not in the days before within the history."""
    of_rack = frozenset(tanks)
    fed = [each for each in history.entries if isinstance(each.what, Served) and tank_of(each.what) in of_rack]
    before = {each.by for each in fed if each.day < first}
    firsts: dict[str, date] = {}
    for each in sorted(fed, key=lambda each: each.day):
        if first <= each.day <= today and each.by is not None and each.by not in before:
            firsts.setdefault(each.by, each.day)
    return [Difference("keeper", day, None, keeper) for keeper, day in firsts.items()] if before else []
