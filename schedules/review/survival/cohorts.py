"""Each hatch as a cohort: how many there were, what became of them, and how many were there when they were counted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final

from schedules.history.life import Change, Life
from schedules.history.life.values import ChangeKind
from schedules.review.survival.statistics import Share, wilson_of_ranges
from schedules.room.heads import Heads

AGES: Final[dict[int, tuple[int, int]]] = {30: (20, 45), 60: (46, 90)}
"""The ages in days at which survival is stated, and between which a count must lie for it."""
DIED: Final[frozenset[ChangeKind]] = frozenset(("dead", "missing"))
"""Deaths that were seen, and heads that a count did not find: they died by then."""
GONE_ALIVE: Final[frozenset[ChangeKind]] = frozenset(("sold", "culled"))


@dataclass(frozen=True, slots=True)
class Counted:
    """Heads of a cohort at an age in days, those that left alive before included, and between which they may lie."""

    age: int
    heads: int
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Cohort:
    """The young of one hatch. `origin` is the number of its entry; `born` how many were seen.

    `deaths` and `left` are ages in days and heads: those that died or were not found any more, and those that were
    sold, culled, or are alive today. `counts` are in the order of age.
    """

    origin: int
    tank: str
    day: date
    born: Heads
    line: str | None
    counts: tuple[Counted, ...]
    deaths: tuple[tuple[int, int], ...]
    left: tuple[tuple[int, int], ...]

    def count_at(self, age: int) -> Counted | None:
        """The last count near an age of `AGES`."""
        first, last = AGES[age]
        return next((each for each in reversed(self.counts) if first <= each.age <= last), None)

    def survival(self, age: int) -> Share | None:
        """The share alive at an age, None where nobody counted near it."""
        counted = self.count_at(age)
        if counted is None or self.born.number == 0:
            return None
        return wilson_of_ranges(counted.heads, (counted.low, counted.high), self.born.number, self.born.range)


def cohorts_of(life: Life, today: date, since: date | None = None) -> tuple[Cohort, ...]:
    """The cohorts of a whole life that hatched from a day on, in the order of days."""
    by_origin: dict[int, list[Change]] = {}
    for change in life.changes:
        if change.origin and change.day <= today:
            by_origin.setdefault(change.origin, []).append(change)
    found = [
        _cohort(changes, today)
        for changes in by_origin.values()
        if changes[0].kind == "hatched" and (since is None or changes[0].day >= since)
    ]
    return tuple(sorted(found, key=lambda cohort: (cohort.day, cohort.origin)))


def _cohort(changes: list[Change], today: date) -> Cohort:
    hatch = changes[0]
    assert hatch.count is not None
    deaths = [(_age(hatch, change), change.heads) for change in changes if change.kind in DIED]
    left = [(_age(hatch, change), change.heads) for change in changes if change.kind in GONE_ALIVE]
    found = sum(change.heads for change in changes if change.kind == "found")
    alive = hatch.heads + found - sum(heads for _, heads in (*deaths, *left))
    if alive > 0:
        left.append(((today - hatch.day).days, alive))
    counts = tuple(_counts(hatch, changes))
    return Cohort(hatch.origin, hatch.tank, hatch.day, hatch.count, hatch.line, counts, tuple(deaths), tuple(left))


def _counts(hatch: Change, changes: list[Change]) -> Iterable[Counted]:
    """How many were there whenever they were counted: as the fold holds it then, within what the count can mean."""
    alive, gone = hatch.heads, 0
    for change in changes:
        if change.kind in DIED:
            alive -= change.heads
        elif change.kind in GONE_ALIVE:
            alive, gone = alive - change.heads, gone + change.heads
        elif change.kind == "found":
            alive += change.heads
        elif change.kind == "counted" and change.count is not None:
            low, high = change.count.range
            scale = alive / max(change.count.number, 1)
            yield Counted(_age(hatch, change), alive + gone, gone + low * scale, gone + high * scale)


def _age(hatch: Change, change: Change) -> int:
    return (change.day - hatch.day).days
