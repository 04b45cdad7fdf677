"""Reading the life of a room from its ledger, at the cost of what was seen lately."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

from schedules.history.history import LOOK_BACK_DAYS
from schedules.history.life.census import hash_of, state_of, text_of
from schedules.history.life.fold import LifeFold
from schedules.history.life.values import Life
from schedules.ledger.entries import Entry, LedgerFault, Sighting, Undone
from schedules.ledger.entries.animals.census import CENSUS, Census
from schedules.ledger.entries.animals.sighting import SIGHTING
from schedules.ledger.ledger import Ledger
from schedules.room import Room

KNOWN_DAYS: Final = LOOK_BACK_DAYS + 2
"""So many days before today animals are known day by day: what the flags and the list of the missed look back on."""
ENOUGH: Final = 100
"""A census is made when so many sightings lie between the last one and the days that are known day by day."""


@dataclass(frozen=True, slots=True)
class _Start:
    """Where the fold begins: at the end of `day` (None: with the room file), and what was seen after it."""

    fold: LifeFold
    day: date | None
    since: tuple[Entry, ...]
    seq: int


def life_of(ledger: Ledger, room: Room, today: date | None = None) -> Life:
    """All that was seen of the animals, folded.

    With `today`, days long before it are not kept apart any more, and what changed then is not listed; without it
    everything is read.
    """
    before = None if today is None else today - timedelta(days=KNOWN_DAYS)
    start = _start(ledger, room, before)
    start.fold.take_in(start.since)
    if before is not None:  # as after a census of that day, so that it is the same with one and without
        start.fold.reach_day(before)
    return start.fold.life(start.seq)


def sum_up(ledger: Ledger, room: Room, today: date, at: datetime) -> None:
    """Write a census where much was seen since the last one, so that it need not be read again.

    A ledger that takes none is left as it is: a census says nothing new.
    """
    day = today - timedelta(days=KNOWN_DAYS)
    start = _start(ledger, room, day)
    old = [entry for entry in start.since if entry.day <= day]
    if len(old) >= ENOUGH:
        start.fold.take_in(old)
        start.fold.reach_day(day)
        with suppress(LedgerFault):
            census = Census(start.seq, hash_of(room), text_of(start.fold.state()))
            ledger.append([census], day=day, at=at, by=None)


def _start(ledger: Ledger, room: Room, before: date | None) -> _Start:
    """The fold as of the last census that still holds, not later than `before`."""
    with ledger.moment():
        seq = ledger.last_seq()
        found = None if before is None else ledger.last_of_kind(CENSUS.name)
        if before is not None and found is not None and isinstance(found.what, Census):
            census = found.what
            late = found.day > before or ledger.added_late(SIGHTING.name, census.upto, found.day)
            if not late and census.room == hash_of(room):
                with suppress(ValueError):  # then all is read, as if there were no census
                    fold = LifeFold(room, before, state_of(census.state))
                    return _Start(fold, found.day, ledger.of_kind(SIGHTING.name, found.day), seq)
        return _Start(LifeFold(room, before), None, ledger.of_kind(SIGHTING.name), seq)


def touches_life(entries: Iterable[Entry]) -> bool:
    """Whether entries can change who lives where: something was seen, or an act taken back that may have been it."""
    return any(isinstance(entry.what, Sighting | Undone) for entry in entries)
