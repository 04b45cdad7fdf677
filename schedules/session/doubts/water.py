"""What speaks against a reading, or against what was poured in, until the keeper insists.

A slip of the hand is questioned: a lost point, a value in another unit, a value far from the last one. The limits are
wide, and all of them common practice, no source: they catch slips, not bad water.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from schedules.history import History
from schedules.room import Room
from schedules.room.units import MG_CACO3_PER_DEGREE, celsius_from_fahrenheit, fahrenheit_from_celsius
from schedules.room.water.quantities import QUANTITIES, Quantity
from schedules.water.readings import Value, latest

Slip = Literal["point", "unit"]
WaterDoubtKind = Literal["future", "beyond", "point", "unit", "unusual", "far_from_last", "more_than_tank", "much_salt"]

USUAL: Final[Mapping[Quantity, tuple[float, float]]] = {
    "temperature": (8, 34),
    "conductivity": (5, 2500),
    "tds": (2, 1500),
    "ph": (4, 9.5),
    "gh": (0, 30),
    "kh": (0, 25),
    "ammonia": (0, 10),
    "nitrite": (0, 10),
    "nitrate": (0, 250),
}
"""A value outside is questioned."""
RECENT_DAYS: Final = 60
"""A reading older than this says little about what is likely today."""
FACTOR: Final = 2.0
"""So many times the last value, or so small a part of it, is questioned."""
JUMP: Final[Mapping[Quantity, float]] = {"temperature": 6.0, "ph": 1.5}
"""Where a ratio says nothing, this distance from the last value is questioned: °C, pH."""
CHANGED_SLOWLY: Final[tuple[Quantity, ...]] = ("conductivity", "tds", "gh", "kh")
"""Quantities compared with the last value by their ratio. The others can rise from nothing."""
NEAR_NOTHING: Final[Mapping[Quantity, float]] = {"conductivity": 40, "tds": 20, "gh": 2, "kh": 2}
"""Below this a ratio says nothing, for the meter's last digit or the test's last drop is most of it."""
MOST_ADDED: Final = 0.5
"""More than this part of a tank is rarely poured in at once."""
MOST_SALT: Final = 5.0
"""g/L: more of any salt than a tank is given at once."""


@dataclass(frozen=True, slots=True)
class WaterDoubt:
    """Why a reading or an addition is questioned. Values are in the domain's units.

    - `future`: its day lies ahead.
    - `beyond`: no water can have this value.
    - `point`, `unit`: it fits with the point elsewhere, or in another unit: `meant`.
    - `unusual`: outside of what is usual for such tanks, `least` to `most`.
    - `far_from_last`: far from the last value, `before`.
    - `more_than_tank`: `value` litres are more than the tank holds (change), or more than half of that (add).
    - `much_salt`: `value` grams are more than any tank is given at once.
    """

    kind: WaterDoubtKind
    tank: str
    day: date
    value: float
    quantity: Quantity | None = None
    meant: float | None = None
    before: Value | None = None
    least: float = 0.0
    most: float = 0.0


def doubt_about_reading(
    room: Room, history: History, today: date, day: date, tank: str, quantity: Quantity, value: float
) -> WaterDoubt | None:
    """The first thing that speaks against a reading of a day."""
    if day > today:
        return WaterDoubt("future", tank, day, value, quantity)
    before = latest(history, room.tanks[tank], quantity, day)
    if before is not None and before.day is not None and (day - before.day).days > RECENT_DAYS:
        before = None
    form = QUANTITIES[quantity]
    beyond = not form.least <= value <= form.most
    if not beyond and _plausible(quantity, value, before):
        return None
    for slip, meant in _slips(room, quantity, value):
        if form.least <= meant <= form.most and _plausible(quantity, meant, before):
            kind: WaterDoubtKind = "beyond" if beyond else slip
            return WaterDoubt(kind, tank, day, value, quantity, meant, before, form.least, form.most)
    if beyond:
        return WaterDoubt("beyond", tank, day, value, quantity, None, before, form.least, form.most)
    least, most = USUAL[quantity]
    if not least <= value <= most:
        return WaterDoubt("unusual", tank, day, value, quantity, None, before, least, most)
    return WaterDoubt("far_from_last", tank, day, value, quantity, None, before)


def doubt_about_volume(
    room: Room, today: date, day: date, tank: str, litres: float, how: Literal["add", "change"]
) -> WaterDoubt | None:
    """What speaks against so many litres poured into a tank or replaced in it."""
    if day > today:
        return WaterDoubt("future", tank, day, litres)
    most = room.tanks[tank].litres * (MOST_ADDED if how == "add" else 1.0)
    return WaterDoubt("more_than_tank", tank, day, litres, most=most) if litres > most else None


def doubt_about_salt(room: Room, today: date, day: date, tank: str, grams: float) -> WaterDoubt | None:
    """What speaks against so many grams of a salt in a tank."""
    if day > today:
        return WaterDoubt("future", tank, day, grams)
    most = room.tanks[tank].litres * MOST_SALT
    return WaterDoubt("much_salt", tank, day, grams, most=most) if grams > most else None


def _plausible(quantity: Quantity, value: float, before: Value | None) -> bool:
    """Whether a value is neither outside of what is usual nor far from the last one.

    Beside a last value that was itself unusual, what is usual says nothing.
    """
    least, most = USUAL[quantity]
    odd_tank = before is not None and not least <= before.value <= most
    if not odd_tank and not least <= value <= most:
        return False
    if before is None:
        return True
    if quantity in JUMP:
        return abs(value - before.value) <= JUMP[quantity]
    if quantity not in CHANGED_SLOWLY:
        return True
    floor = NEAR_NOTHING[quantity]
    low, high = sorted((max(value, floor), max(before.value, floor)))
    return high <= FACTOR * low


def _slips(room: Room, quantity: Quantity, value: float) -> Iterator[tuple[Slip, float]]:
    """What may have been meant by a value: with another unit, or with the point elsewhere."""
    for as_meant in _UNIT_SLIPS.get(quantity, ()):
        yield "unit", as_meant(value)
    # A lost point is one of the number as it was typed: that of °F, not of the °C it became.
    typed, back = (
        (fahrenheit_from_celsius, celsius_from_fahrenheit) if _in_fahrenheit(room, quantity) else (_as_is,) * 2
    )
    for factor in (0.1, 10.0, 0.01, 100.0):
        yield "point", back(typed(value) * factor)


def _in_fahrenheit(room: Room, quantity: Quantity) -> bool:
    return quantity == "temperature" and room.units.us


def _as_is(value: float) -> float:
    return value


_HARDNESS: Final[tuple[Callable[[float], float], ...]] = (
    lambda value: value / MG_CACO3_PER_DEGREE,
    lambda value: value * MG_CACO3_PER_DEGREE,
)
_UNIT_SLIPS: Final[Mapping[Quantity, tuple[Callable[[float], float], ...]]] = {
    "temperature": (celsius_from_fahrenheit, fahrenheit_from_celsius),
    "conductivity": (lambda value: value * 1000,),
    "gh": _HARDNESS,
    "kh": _HARDNESS,
}
