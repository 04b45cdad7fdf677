"""What was read in each tank, quantity by quantity, and what was done to its water: a view of the history."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from schedules.history import History
from schedules.ledger.entries import Entry, Reading
from schedules.room import Tank
from schedules.room.water.quantities import QUANTITIES, Quantity


@dataclass(frozen=True, slots=True)
class Value:
    """One value read, in the domain's units.

    `day` and `entry` are None for what the room file says of the tank: nobody knows on which day that was read.
    """

    value: float
    day: date | None = None
    entry: Entry | None = None


def series(history: History, tank: str, quantity: Quantity) -> tuple[Value, ...]:
    """Every reading of a quantity in a tank that the history holds, by day, then time of day, then order of writing."""
    return tuple(
        Value(entry.what.value, entry.day, entry)
        for entry in history.water_of(tank)
        if isinstance(entry.what, Reading) and entry.what.quantity == quantity
    )


def daily(values: Iterable[Value]) -> tuple[Value, ...]:
    """The last value of each day: a day counts once, however often it was read."""
    return tuple({value.day: value for value in values}.values())


def latest(history: History, tank: Tank, quantity: Quantity, upto: date | None = None) -> Value | None:
    """The newest reading of a quantity (up to a day), else what the room file says of it; None for never read."""
    for entry in reversed(history.water_of(tank.id)):
        what = entry.what
        if isinstance(what, Reading) and what.quantity == quantity and (upto is None or entry.day <= upto):
            return Value(what.value, entry.day, entry)
    first: float | None = getattr(tank.water, quantity, None)
    return None if first is None else Value(first)


def read_quantities(history: History, tank: str) -> tuple[Quantity, ...]:
    """The quantities that were read in a tank within the history, in their usual order."""
    found = {entry.what.quantity for entry in history.water_of(tank) if isinstance(entry.what, Reading)}
    return tuple(quantity for quantity in QUANTITIES if quantity in found)


def water_acts(history: History, tank: str) -> tuple[Entry, ...]:
    """What was poured into a tank, changed or dissolved in it, by day."""
    return tuple(entry for entry in history.water_of(tank) if not isinstance(entry.what, Reading))
