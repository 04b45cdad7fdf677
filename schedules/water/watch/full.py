"""Readings as they would be in the full tank: what has evaporated since the last top-off is taken out of them.

Vapour takes nothing along, so of a value C read with a part x of the tank gone, C·(1 - x) is left once it is filled up
with pure water. What was poured in on top says how much goes in a day. Without this the rise before each top-off counts
as the tank's own scatter, and a drift hides in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise
from typing import Final

from schedules.water.watch.findings import Done, Event, Read

TOP_OFFS: Final = 3
"""So many top-offs must be on record before their pace is used."""
MOST_LOST: Final = 0.3
"""No larger part of a tank is taken to be gone. Common practice, no source."""


def as_full(events: Sequence[Event]) -> tuple[Event, ...]:
    """The events of a tank by day, each reading with the part of the tank that was gone when it was taken.

    The tank is taken to be full after each top-off. Where nobody tops off for longer than ever before, no more is taken
    to be gone than at the end of the longest time between two: perhaps the top-offs are only not written down.
    """
    pace, longest = _pace([event for event in events if isinstance(event, Done) and event.added])
    if not pace:
        return tuple(events)
    found: list[Event] = []
    full: date | None = None
    first = next(event for event in events if isinstance(event, Done) and event.added)
    for event in events:
        if isinstance(event, Read):
            if full is None:
                gone = first.part - pace * (first.day - event.day).days
            else:
                gone = pace * min((event.day - full).days, longest)
            found.append(replace(event, lost=min(max(gone, 0.0), MOST_LOST)))
        else:
            full = event.day if event.added else full
            found.append(event)
    return tuple(found)


def _pace(added: Sequence[Done]) -> tuple[float, int]:
    """The part of the tank that goes in a day, and the longest time between two top-offs in days; 0 for too few."""
    if len(added) < TOP_OFFS or added[-1].day == added[0].day:
        return 0.0, 0
    days = (added[-1].day - added[0].day).days
    longest = max((later.day - earlier.day).days for earlier, later in pairwise(added))
    return sum(each.part for each in added if each.day > added[0].day) / days, longest
