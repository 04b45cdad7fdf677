"""A posting as few plain values: each distinct serving once, with the days on which it is due as one number.

A plan is posted every day and mostly repeats itself, so this is what keeps ten years of plans small. The form is part
of the JSON Lines format (see README.md beside this file) and of the chain of entries; it must never change silently.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import lru_cache
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from math import isfinite
from typing import Any, Final, cast, get_args

from schedules.ledger.entries import PostedServing, Posting
from schedules.room.kinds import Method

Packed = dict[str, Any]
"""Keys start, days, tanks, feeds, doses, then for each serving tank, feed, dose, share and on (its days, as a number in
hexadecimal), and, for days that have an order of their own, orders."""
MOST_DAYS: Final = 1000
"""A posting of more days is no plan but mischief or damage."""
METHODS: Final = frozenset(get_args(Method))
Dose = tuple[str, float, str, float, str]
"""Round, amount, unit, amount in mg, method."""


def _dose(serving: PostedServing) -> Dose:
    return serving.round, float(serving.amount), serving.unit, float(serving.amount_mg), serving.method


def _in_order(days: Sequence[Sequence[int]]) -> list[int]:
    """Every number once, in an order that each day keeps to if any such order exists."""
    before: dict[int, set[int]] = {}
    for day in days:
        for number in day:
            before.setdefault(number, set())
        for left, right in pairwise(day):
            before[right].add(left)
    try:
        return list(TopologicalSorter({number: sorted(known) for number, known in before.items()}).static_order())
    except CycleError:
        return list(before)


def _numbered(values: Iterator[Any]) -> dict[Any, int]:
    numbers: dict[Any, int] = {}
    for value in values:
        numbers.setdefault(value, len(numbers))
    return numbers


def pack(posting: Posting) -> Packed:
    """The posting as JSON values; `unpack` gives back an equal posting."""
    numbers: dict[PostedServing, int] = {}
    days = [[numbers.setdefault(serving, len(numbers)) for serving in day] for day in posting.days]
    order = _in_order(days)
    place = {number: at for at, number in enumerate(order)}
    by_number = list(numbers)
    listed = [by_number[number] for number in order]
    masks = [0] * len(listed)
    orders: dict[str, list[int]] = {}
    for number, day in enumerate(days):
        places = [place[serving] for serving in day]
        for at in places:
            masks[at] |= 1 << number
        if any(left >= right for left, right in pairwise(places)):
            orders[str(number)] = places
    return _written(posting, listed, masks) | ({"orders": orders} if orders else {})


def _written(posting: Posting, listed: Sequence[PostedServing], masks: Sequence[int]) -> Packed:
    tanks = _numbered(serving.tank for serving in listed)
    feeds = _numbered(serving.feed for serving in listed)
    doses = _numbered(_dose(serving) for serving in listed)
    return {
        "start": posting.start.isoformat(),
        "days": len(posting.days),
        "tanks": list(tanks),
        "feeds": list(feeds),
        "doses": [list(dose) for dose in doses],
        "tank": [tanks[serving.tank] for serving in listed],
        "feed": [feeds[serving.feed] for serving in listed],
        "dose": [doses[_dose(serving)] for serving in listed],
        "share": [float(serving.part) for serving in listed],
        "on": [f"{mask:x}" for mask in masks],
    }


@lru_cache(maxsize=16384)
def _serving(tank: str, feed: str, share: float, dose: Dose) -> PostedServing:
    """One serving; the same one is due on many days of many postings, so it is made once."""
    round_id, amount, unit, amount_mg, method = dose
    return PostedServing(tank, feed, round_id, share, amount, unit, amount_mg, cast(Method, method))


def _checked(packed: Packed) -> tuple[list[str], list[str], list[Dose], int]:
    """Tanks, feeds, doses and number of days, refused with ValueError where they are not of their types."""
    tanks, feeds, days = packed["tanks"], packed["feeds"], packed["days"]
    doses = [tuple(dose) for dose in packed["doses"]]
    rounds, amounts, units, milligrams, methods = zip(*doses, strict=True) if doses else ((),) * 5
    if {type(text) for text in (*tanks, *feeds, *rounds, *units)} - {str} or not METHODS.issuperset(methods):
        raise ValueError("a tank, feed, round, unit or method is none")
    numbers = (*packed["share"], *amounts, *milligrams)
    if {type(number) for number in numbers} - {float} or not all(map(isfinite, numbers)):
        raise ValueError("a share or amount is no number")
    if not isinstance(days, int) or not 0 <= days <= MOST_DAYS:
        raise ValueError(f"days is {days!r}")
    return tanks, feeds, cast(list[Dose], doses), days


def unpack(packed: Packed, first: int = 0, last: int | None = None) -> Posting:
    """The posting again, or only its days numbered `first` to before `last` (it then starts on the first of them).

    Raises ValueError, TypeError, KeyError or IndexError where the values are not such a form.
    """
    tanks, feeds, doses, number_of_days = _checked(packed)
    columns = [packed[name] for name in ("tank", "feed", "share", "dose")]
    masks = [int(mask, 16) for mask in packed["on"]]
    if any(len(column) != len(masks) for column in columns):
        raise ValueError("the servings' columns differ in length")
    made: dict[int, PostedServing] = {}
    days = []
    for number in range(first, number_of_days if last is None else min(last, number_of_days)):
        places = packed.get("orders", {}).get(str(number))
        if places is None:
            places = [place for place, on in enumerate(masks) if on >> number & 1]
        for place in places:
            if place not in made:
                tank, feed, share, dose = (column[place] for column in columns)
                made[place] = _serving(tanks[tank], feeds[feed], share, doses[dose])
        days.append(tuple(map(made.__getitem__, places)))
    start = date.fromisoformat(packed["start"])
    return Posting(date.fromordinal(start.toordinal() + first), tuple(days))
