"""A projection: standing entries of some kinds, put together by what they are about. Declared once, folded anywhere."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Final, Generic, TypeVar

from schedules.ledger import ChoreMark, Entry, Reading, SaltAdded, Served, WaterAdded, WaterChanged, What, tank_of

K = TypeVar("K")


@dataclass(frozen=True, slots=True)
class Projection(Generic[K]):
    """What is read (`reads`: kinds of entry, none for all of them) and under which `key` an entry is found.

    An entry without a key (None) is left out. Under one key entries are in the order of `order`.
    """

    name: str
    reads: tuple[type[What], ...]
    key: Callable[[Entry], K | None]
    order: Callable[[Entry], Any] = field(default=lambda entry: entry.seq)

    def key_of(self, entry: Entry) -> K | None:
        """Where an entry is found; None where the projection does not hold it."""
        return self.key(entry) if not self.reads or isinstance(entry.what, self.reads) else None

    def fold(self, entries: Iterable[Entry]) -> dict[K, tuple[Entry, ...]]:
        """The projection of some standing entries."""
        found: dict[K, list[Entry]] = {}
        for entry in entries:
            key = self.key_of(entry)
            if key is not None:
                found.setdefault(key, []).append(entry)
        return {key: tuple(sorted(listed, key=self.order)) for key, listed in found.items()}

    def changed(
        self, state: Mapping[K, tuple[Entry, ...]], added: Iterable[Entry], gone: Iterable[Entry]
    ) -> dict[K, tuple[Entry, ...]]:
        """The state after some entries came and others went: costs what changed, not what there is."""
        made = dict(state)
        lost = {entry.seq for entry in gone}
        for key in {key for entry in gone if (key := self.key_of(entry)) is not None}:
            made[key] = tuple(entry for entry in made.get(key, ()) if entry.seq not in lost)
        for key, listed in self.fold(added).items():
            made[key] = tuple(sorted((*made.get(key, ()), *listed), key=self.order))
        return made


def _day_and_tank(entry: Entry) -> tuple[date, str] | None:
    tank = tank_of(entry.what)
    return None if tank is None else (entry.day, tank)


def _tank_and_feed(entry: Entry) -> tuple[str, str] | None:
    return (entry.what.tank, entry.what.feed) if isinstance(entry.what, Served) else None


def _place_and_chore(entry: Entry) -> tuple[str, str] | None:
    return (entry.what.tank or "", entry.what.subject) if isinstance(entry.what, ChoreMark) else None


def _day_and_time(entry: Entry) -> tuple[date, str, int]:
    """Where an entry stands in time: by its time of day where it has one; one without is behind those."""
    read = entry.what.time if isinstance(entry.what, Reading) else None
    return (entry.day, read or "~", entry.seq)


ABOUT: Final = Projection("about", (), _day_and_tank)
"""Everything about a tank on a day, in the order in which it was written."""
GIVEN: Final = Projection("given", (Served,), _tank_and_feed, lambda entry: (entry.day, entry.seq))
"""Servings of a feed to a tank, by day and then by order of writing."""
CHORES: Final = Projection("chores", (ChoreMark,), _place_and_chore, lambda entry: (entry.day, entry.seq))
"""Marks of a chore at a tank ("" for none), by day and then by order of writing."""
WATER: Final = Projection(
    "water", (Reading, SaltAdded, WaterAdded, WaterChanged), lambda entry: tank_of(entry.what), _day_and_time
)
"""What was read in a tank's water and done to it, in the order in which it was."""
