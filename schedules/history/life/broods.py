"""The broods of one tank, oldest first, after something was seen of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

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
