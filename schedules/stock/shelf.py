"""How much of a feed there is: what was weighed last, and what came and went since."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import Final

from schedules.ledger import Delivered, Entry, Served, Weighed

LEAST_GIVEN: Final = 0.5
"""Grams given between two weighings below which they say nothing of losses: the scale's own error is as large."""
NOT_KNOWN: Final = (1.0, 1.1, 1.25)
"""Grams that leave the shelf for a gram that is given, at least, likely and at most, where it was never found out:
mixes leave a rest, spoons are heaped. Common practice, no source."""
SPREAD: Final = 0.1
"""How much further than it was seen the ratio may go. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Taken:
    """Grams that leave the shelf for each gram that is given: at least, likely, at most; `weighings` show it."""

    least: float
    likely: float
    most: float
    weighings: int


@dataclass(frozen=True, slots=True)
class Shelf:
    """What there is of one feed, in grams: likely, at least and at most.

    `since` is the day of the weighing, or else of the first delivery, from which it is counted; `weighed` says which of
    them. `given` are the grams given since.
    """

    likely: float
    least: float
    most: float
    since: date
    weighed: bool
    given: float
    taken: Taken


def shelf_of(entries: Iterable[Entry]) -> Shelf | None:
    """What there is of a feed, from standing entries about that feed alone; None where nothing was ever entered.

    On a day on which it was weighed, what had been entered before is taken as already gone.
    """
    listed = sorted(entries, key=lambda entry: (entry.day, entry.seq))
    start = next((number for number, entry in enumerate(listed) if isinstance(entry.what, Weighed | Delivered)), None)
    if start is None:
        return None
    taken = taken_of(listed)
    last = max((number for number, entry in enumerate(listed) if isinstance(entry.what, Weighed)), default=None)
    begin = start if last is None else last
    came = sum(_grams_in(entry) for entry in listed[begin:])
    given = sum(_grams_given(entry) for entry in listed[begin:])
    return Shelf(
        likely=max(0.0, came - given * taken.likely),
        least=max(0.0, came - given * taken.most),
        most=max(0.0, came - given * taken.least),
        since=listed[begin].day,
        weighed=last is not None,
        given=given,
        taken=taken,
    )


def taken_of(listed: list[Entry]) -> Taken:
    """What leaves the shelf for each gram given, as far as weighings show it; entries in the order of their days."""
    weighings = [number for number, entry in enumerate(listed) if isinstance(entry.what, Weighed)]
    gone_in_all = given_in_all = 0.0
    ratios = []
    for first, last in pairwise(weighings):
        between = listed[first:last]
        given = sum(_grams_given(entry) for entry in between)
        gone = sum(_grams_in(entry) for entry in between) - _grams_in(listed[last])
        if given >= LEAST_GIVEN and gone > 0:
            ratios.append(gone / given)
            gone_in_all, given_in_all = gone_in_all + gone, given_in_all + given
    if not ratios:
        return Taken(*NOT_KNOWN, weighings=0)
    return Taken(min(ratios) * (1 - SPREAD), gone_in_all / given_in_all, max(ratios) * (1 + SPREAD), len(ratios) + 1)


def _grams_in(entry: Entry) -> float:
    return entry.what.grams if isinstance(entry.what, Weighed | Delivered) else 0.0


def _grams_given(entry: Entry) -> float:
    return entry.what.amount_mg / 1000 if isinstance(entry.what, Served) else 0.0
