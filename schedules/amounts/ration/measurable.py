"""What the keeper can measure: whole measures, quarter spoons, pellets that break in two or three."""

from __future__ import annotations

from math import floor, log10
from typing import Final

from schedules.room import Measure

_HAIR: Final = 1e-9
"""Room for the rounding of floats, so that three thirds are a whole."""
_FIGURES: Final = 3
"""A mixed dose is set down to three figures: finer than any syringe."""


def smallest_part(measure: Measure) -> float:
    """The smallest part of a measure that can be measured: `step`, taken as 1/n where it is within 2 % of that.

    A pellet that breaks in three is written 0.33, and three of those are one pellet.
    """
    parts = round(1 / measure.step) if measure.step < 1 else 0
    return 1 / parts if parts and abs(parts * measure.step - 1) <= 0.02 else measure.step


def measured(mg: float, measure: Measure) -> float:
    """The largest number of measures not above a mass that the keeper can measure; 0 where the smallest part is."""
    part = smallest_part(measure)
    return floor(mg / (measure.mg * part) + _HAIR) * part


def mixed_mg(mg: float) -> float:
    """A mass that goes into a mix, rounded down to three figures."""
    if mg <= 0:
        return 0.0
    unit = 10.0 ** (floor(log10(mg)) - _FIGURES + 1)
    return min(mg, floor(mg / unit + _HAIR) * unit)
