"""Reading the life of a room from its ledger."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Final

from schedules.history.life.fold import LifeFold
from schedules.history.life.values import Life
from schedules.ledger.entries import Entry, Sighting, Undone
from schedules.ledger.entries.sighting import SIGHTING
from schedules.ledger.ledger import Ledger
from schedules.room import Room

KNOWN_DAYS: Final = 63
"""So many days before today animals are known day by day: what the flags and the list of the missed look back on."""


def life_of(ledger: Ledger, room: Room, today: date | None = None) -> Life:
    """All that was seen of the animals, folded. With `today`, days long before it are not kept apart any more."""
    fold = LifeFold(room, None if today is None else today - timedelta(days=KNOWN_DAYS))
    with ledger.moment():
        seq = ledger.last_seq()
        fold.take_in(ledger.of_kind(SIGHTING.name))
    return fold.life(seq)


def touches_life(entries: Iterable[Entry]) -> bool:
    """Whether entries can change who lives where: something was seen, or an act taken back that may have been it."""
    return any(isinstance(entry.what, Sighting | Undone) for entry in entries)
