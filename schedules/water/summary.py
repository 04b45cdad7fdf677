"""A tank's water as one looks at it: the latest value of each quantity, how it changed, where it leads."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from schedules.history import History
from schedules.room import Tank
from schedules.room.water.quantities import QUANTITIES, Quantity
from schedules.water.readings import Value, daily, latest, series
from schedules.water.watch import Trend, trend
from schedules.water.watch.settings import ENOUGH


@dataclass(frozen=True, slots=True)
class QuantityNow:
    """One quantity of a tank: its latest value, that of the day before which it was read last, its trend.

    `count` days were read within the history; with `too_few` of them nothing is said of the tank's own past. `trend`
    is None where too little is known for one.
    """

    quantity: Quantity
    value: Value
    before: Value | None
    trend: Trend | None
    count: int

    @property
    def too_few(self) -> bool:
        """Whether too little was read for the tank's own past to say anything."""
        return self.count < ENOUGH

    @property
    def change(self) -> float | None:
        """How far the latest value is from the one before; None for a single one."""
        return None if self.before is None else self.value.value - self.before.value


def water_now(history: History, tank: Tank, today: date) -> Iterator[QuantityNow]:
    """Every quantity that was ever read in a tank, in the usual order; what the room file says counts as read once."""
    for quantity in QUANTITIES:
        value = latest(history, tank, quantity, today)
        if value is None:
            continue
        days = [each for each in daily(series(history, tank.id, quantity)) if each.day and each.day <= today]
        before = days[-2] if len(days) > 1 else None
        yield QuantityNow(quantity, value, before, trend(history, tank, quantity, today), len(days))
