"""A posting as few plain values: each distinct serving once, with the days on which it is due as one number.

A plan is posted every day and mostly repeats itself, so this is what keeps ten years of plans small. The form is part
of the JSON Lines format (README.md of the ledger) and of the chain of entries; a change of it is a schema version.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from functools import lru_cache, partial
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from math import isfinite
from typing import Any, Final, NamedTuple, cast, get_args

from schedules.ledger.declaration import Content
from schedules.ledger.entries.plan.posting import PostedServing, Posting
from schedules.ledger.fields import Malformed
from schedules.room.kinds import Method

KEYS: Final = ("start", "days", "tanks", "feeds", "doses", "tank", "feed", "dose", "part", "on")
"""The keys of a packed posting, and `orders` where days have an order of their own."""
MOST_DAYS: Final = 1000
"""A posting of more days is no plan but mischief or damage."""
METHODS: Final = frozenset(get_args(Method))
_HEXADECIMAL: Final = re.compile("[0-9a-f]+")
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


def pack(posting: Posting) -> Content:
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


def _written(posting: Posting, listed: Sequence[PostedServing], masks: Sequence[int]) -> Content:
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
        "part": [float(serving.part) for serving in listed],
        "on": [f"{mask:x}" for mask in masks],
    }


@lru_cache(maxsize=16384)
def _serving(tank: str, feed: str, part: float, dose: Dose) -> PostedServing:
    """One serving; the same one is due on many days of many postings, so it is made once."""
    round_id, amount, unit, amount_mg, method = dose
    return PostedServing(tank, feed, round_id, part, amount, unit, amount_mg, cast(Method, method))


class _Checked(NamedTuple):
    """The values of a packed posting, each of its type."""

    start: date
    days: int
    tanks: list[str]
    feeds: list[str]
    doses: list[Dose]
    masks: list[int]


def _checked(packed: Content) -> _Checked:
    """The values, refused with `Malformed` under the first key whose values are of another type or out of range."""
    for key in KEYS[2:]:
        if not isinstance(packed[key], list):
            raise Malformed(key, packed[key], "a list")
    days = packed["days"]
    if type(days) is not int or not 0 <= days <= MOST_DAYS:
        raise Malformed("days", days, f"a whole number from 0 to {MOST_DAYS}")
    for key in ("tanks", "feeds"):
        _each(packed, key, "a list of texts", lambda text: type(text) is str)
    _each(packed, "doses", "a list of [round, amount, unit, amount_mg, method]", _is_dose)
    for key, of in (("tank", "tanks"), ("feed", "feeds"), ("dose", "doses")):
        most = len(packed[of]) - 1
        _each(packed, key, f"a list of places from 0 to {most}", partial(_is_place, most))
    _each(packed, "part", "a list of numbers of 0 or more", _is_number)
    _each(packed, "on", "a list of numbers in hexadecimal", lambda on: type(on) is str and _HEXADECIMAL.fullmatch(on))
    if len({len(packed[key]) for key in ("tank", "feed", "dose", "part", "on")}) > 1:
        raise Malformed("on", len(packed["on"]), "as many values as under tank, feed, dose and part")
    if type(packed["start"]) is not str:
        raise Malformed("start", packed["start"], "a day")
    doses = [cast(Dose, tuple(dose)) for dose in packed["doses"]]
    masks = [int(on, 16) for on in packed["on"]]
    return _Checked(date.fromisoformat(packed["start"]), days, packed["tanks"], packed["feeds"], doses, masks)


def _each(packed: Content, key: str, allowed: str, sound: Callable[[Any], object]) -> None:
    for value in packed[key]:
        if not sound(value):
            raise Malformed(key, value, allowed)


def _is_place(most: int, at: Any) -> bool:
    return type(at) is int and 0 <= at <= most


def _is_number(number: Any) -> bool:
    return type(number) is float and isfinite(number) and number >= 0


def _is_dose(dose: Any) -> bool:
    if not isinstance(dose, list) or len(dose) != 5:
        return False
    round_id, amount, unit, amount_mg, method = dose
    texts = type(round_id) is str and type(unit) is str and method in METHODS
    return texts and _is_number(amount) and _is_number(amount_mg)


def _orders(packed: Content, checked: _Checked) -> dict[int, list[int]]:
    """The days that have an order of their own: by the day's number the places of its servings."""
    orders = packed.get("orders", {})
    most = len(checked.masks) - 1
    if not isinstance(orders, dict):
        raise Malformed("orders", orders, "an object with a list of places under a day's number")
    for day, places in orders.items():
        if not day.isdecimal() or int(day) >= checked.days or not isinstance(places, list):
            raise Malformed("orders", {day: places}, f"a list under a day's number from 0 to {checked.days - 1}")
        if not all(_is_place(most, place) for place in places):
            raise Malformed(f"orders.{day}", places, f"a list of places from 0 to {most}")
    return {int(day): places for day, places in orders.items()}


def unpack(packed: Content, first: int = 0, last: int | None = None) -> Posting:
    """The posting again, or only its days numbered `first` to before `last` (it then starts on the first of them).

    Raises `Malformed`, another ValueError, TypeError or KeyError where the values are not such a form.
    """
    checked = _checked(packed)
    orders = _orders(packed, checked)
    made: dict[int, PostedServing] = {}
    days = []
    for number in range(first, checked.days if last is None else min(last, checked.days)):
        places = orders.get(number)
        if places is None:
            places = [place for place, on in enumerate(checked.masks) if on >> number & 1]
        for place in places:
            if place not in made:
                tank, feed, part, dose = (packed[key][place] for key in ("tank", "feed", "part", "dose"))
                made[place] = _serving(checked.tanks[tank], checked.feeds[feed], part, checked.doses[dose])
        days.append(tuple(map(made.__getitem__, places)))
    return Posting(date.fromordinal(checked.start.toordinal() + first), tuple(days))
