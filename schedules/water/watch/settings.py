"""What the watch uses, quantity by quantity, in one place.

The weight and the width of the moving average are published design values; the rest is common practice, no source,
and was checked on simulated years (`python -m tests.bench.water_year`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, log
from typing import Final

from schedules.room.water.quantities import Quantity

WEIGHT: Final = 0.3
"""How much the newest reading weighs in the moving average: 0.2 to 0.3 is the usual choice (NIST/SEMATECH 6.3.2.4)."""
WIDTH: Final = 3.0
"""How many standard deviations of the average its limits are from the mean (the same)."""
ENOUGH: Final = 5
"""So many readings a level must be known from before anything is judged by it."""
LEARNED: Final = 8
"""A level is learned from so many readings at least,"""
LEARNED_DAYS: Final = 21
"""and over so many days at least; later ones are judged by it."""
GUARD_DAYS: Final = 14
"""A reading that was judged joins the level after so many days."""
PRIOR: Final = 6
"""The usual scatter counts as much as so many readings beside the tank's own."""
NEAR_DAYS: Final = 10
"""A reading is compared with the one before as a step where they are not further apart."""
TOGETHER: Final = 3
"""So many tanks of a rack must be read on a day before what they have in common is taken out of each."""
TREND_DAYS: Final = 42
"""A trend is drawn through the readings of so many days,"""
TREND_READINGS: Final = 6
"""at least so many of them,"""
TREND_SPAN: Final = 14
"""over so many days at least."""
AHEAD_DAYS: Final = 28
"""A trend that leaves the target within so many days is a finding."""
USUAL_CHANGE: Final = 1.5
"""A water change so many times as large as this tank's usual ones, or a dose, begins a new level."""
LARGE_CHANGE: Final = 0.1
"""A change below this part of the tank never does."""


@dataclass(frozen=True, slots=True)
class Scale:
    """How one quantity is judged, in its domain units, or in natural logarithms where `ratio` is true.

    `scatter` is usual from reading to reading, `least` the smallest scatter ever assumed (a meter's last digit);
    a change of the level below `matters` is left alone; `rise` and `fall` from one reading to the next are steps.
    """

    ratio: bool
    scatter: float
    least: float
    matters: float
    rise: float
    fall: float

    def of(self, value: float) -> float:
        """A value on this scale."""
        return log(max(value, 1.0)) if self.ratio else value

    def back(self, scaled: float) -> float:
        """The value of a place on this scale."""
        return exp(scaled) if self.ratio else scaled


SCALES: Final[Mapping[Quantity, Scale]] = {
    "temperature": Scale(False, 0.3, 0.15, 0.5, 2.0, 2.0),
    "conductivity": Scale(True, 0.02, 0.015, 0.03, log(1.15), log(1.15)),
    "tds": Scale(True, 0.02, 0.015, 0.03, log(1.15), log(1.15)),
    "ph": Scale(False, 0.1, 0.06, 0.25, 0.5, 0.5),
    "gh": Scale(False, 0.3, 0.2, 0.8, 2.0, 2.0),
    "kh": Scale(False, 0.2, 0.15, 0.6, 2.0, 1.0),
    "ammonia": Scale(False, 0.1, 0.06, 0.2, 0.5, 1e9),
    "nitrite": Scale(False, 0.1, 0.06, 0.2, 0.5, 1e9),
    "nitrate": Scale(False, 3.0, 2.0, 8.0, 15.0, 1e9),
}
