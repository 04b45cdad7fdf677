"""How steady a week's water was: of each quantity how often it was read, and where it went furthest up and down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from schedules.history import History
from schedules.room import Room
from schedules.room.water.quantities import QUANTITIES, Quantity
from schedules.water.readings import daily, series


@dataclass(frozen=True, slots=True)
class Steadiness:
    """One quantity over a week, in the domain's units.

    `readings` counts the days on which it was read, over `tanks` tanks. `widest` is the largest difference between two
    days of one tank and `tank` that tank, None where no tank was read twice.
    """

    quantity: Quantity
    readings: int
    tanks: int
    widest: float | None
    tank: str | None


def steadiness_of(room: Room, history: History, days: Sequence[date]) -> tuple[Steadiness, ...]:
    """Every quantity that was read on some days, in the usual order."""
    return tuple(found for quantity in QUANTITIES if (found := _steadiness(room, history, quantity, set(days))))


def _steadiness(room: Room, history: History, quantity: Quantity, days: set[date]) -> Steadiness | None:
    read = {
        tank: [value.value for value in daily(each for each in series(history, tank, quantity) if each.day in days)]
        for tank in room.walk
    }
    read = {tank: values for tank, values in read.items() if values}
    if not read:
        return None
    spans = [(max(values) - min(values), tank) for tank, values in read.items() if len(values) > 1]
    widest, tank = max(spans, key=lambda span: span[0], default=(None, None))
    return Steadiness(quantity, sum(map(len, read.values())), len(read), widest, tank)
