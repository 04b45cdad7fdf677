"""A keeper's acts of today that can still be taken back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from itertools import groupby

from schedules.history import History
from schedules.ledger import ChoreMark, Entry
from schedules.ledger.declaration import kind_of
from schedules.room import Room


@dataclass(frozen=True, slots=True)
class RecentAct:
    """One act: its entries as they were written together."""

    entries: tuple[Entry, ...]

    @property
    def number(self) -> int:
        """The act's number in the ledger."""
        return self.entries[0].act

    @property
    def tanks(self) -> frozenset[str]:
        """The tanks it is about."""
        found = (getattr(entry.what, "tank", None) for entry in self.entries)
        return frozenset(tank for tank in found if tank is not None)

    @property
    def racks(self) -> frozenset[str]:
        """The racks whose own chores it is about."""
        marks = (entry.what for entry in self.entries if isinstance(entry.what, ChoreMark))
        return frozenset(mark.rack for mark in marks if mark.rack is not None)


def recent_acts(room: Room, history: History, by: str, day: date, rack: str | None = None) -> tuple[RecentAct, ...]:
    """A keeper's acts about a day or of that day that hold, newest first; with `rack` those at its tanks alone."""
    own = (
        entry
        for entry in sorted(history.entries, key=lambda entry: entry.seq)
        if entry.by == by and day in (entry.day, room.day(entry.at)) and kind_of(entry.what).undoable
    )
    acts = [RecentAct(tuple(entries)) for _, entries in groupby(own, lambda entry: entry.act)]
    tanks = {tank for each in room.racks if each.id == rack for tank in each.tanks}
    return tuple(act for act in reversed(acts) if rack is None or act.tanks & tanks or rack in act.racks)
