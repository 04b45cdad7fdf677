"""The broods of one tank, oldest first, after something was seen of them, or some of its adults left.

Broods leave with the females that carry them. Where the keeper says how many of the adults that left were berried, it
is so many; otherwise the berried ones leave in proportion to all adults known, and with the last adult all are gone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from schedules.history.life.shares import shared_out
from schedules.history.life.values import Brood
from schedules.ledger.entries import Entry, Sighting

Broods = tuple[Brood, ...]


def without_one(broods: Sequence[Brood]) -> Broods:
    """The broods after a hatch: the oldest female's is there no more."""
    if not broods:
        return ()
    first, *others = broods
    return (*([] if first.heads <= 1 else [replace(first, heads=first.heads - 1)]), *others)


def with_berried(broods: Sequence[Brood], entry: Entry, what: Sighting) -> Broods:
    """So many berried females are there now: those known already, and new ones; with 0 none any more."""
    if what.heads == 0:
        return ()
    new = what.heads - sum(brood.heads for brood in broods)
    return (*broods, Brood(what.tank, new, entry.day, None, entry.seq)) if new > 0 else tuple(broods)


def leaving(broods: Sequence[Brood], heads: int, there: int, berried: int | None) -> tuple[Broods, Broods]:
    """The broods that stay and those that go when `heads` of the `there` adults of a tank leave.

    Of several broods each goes in proportion to its females.
    """
    females = [brood.heads for brood in broods]
    known = sum(females)
    if berried is None:
        berried = known if heads >= there else shared_out(heads, [known, max(there - known, 0)])[0]
    parts = shared_out(min(berried, known), females)
    with_parts = list(zip(broods, parts, strict=True))
    stay = (replace(brood, heads=brood.heads - part) for brood, part in with_parts if part < brood.heads)
    return tuple(stay), tuple(replace(brood, heads=part) for brood, part in with_parts if part)


def joined(broods: Sequence[Brood], others: Iterable[Brood]) -> Broods:
    """The broods of a tank with others that came in."""
    made = list(broods)
    for other in others:
        alike = (place for place, brood in enumerate(made) if replace(brood, heads=other.heads) == other)
        place = next(alike, None)
        if place is None:
            made.append(other)
        else:
            made[place] = replace(other, heads=made[place].heads + other.heads)
    return tuple(sorted(made, key=lambda brood: min(day for day in (brood.berried, brood.eyed) if day is not None)))


def with_eyed(broods: Sequence[Brood], entry: Entry, what: Sighting) -> Broods:
    """So many have eggs with eyes now: those known already, then the oldest others, then such as were never seen."""
    if what.heads == 0:
        return tuple(replace(brood, eyed=None) for brood in broods if brood.berried is not None)
    left = what.heads - sum(brood.heads for brood in broods if brood.eyed is not None)
    made: list[Brood] = []
    for brood in broods:
        if brood.eyed is not None or left <= 0:
            made.append(brood)
            continue
        made.append(replace(brood, heads=min(left, brood.heads), eyed=entry.day))
        if left < brood.heads:
            made.append(replace(brood, heads=brood.heads - left))
        left -= brood.heads
    if left > 0:
        made.append(Brood(what.tank, left, None, entry.day, entry.seq))
    return tuple(made)
