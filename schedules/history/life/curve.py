"""How long an animal is at an age, and how old it is at a length: the growth curve.

No temperature law of growth was found published. What is here was built from single published figures.
"""

from __future__ import annotations

from math import exp, log
from typing import Final

HATCH_MM: Final = 2.3
"""Total length at hatch (Nur and Christianus 2013)."""
CEILING_MM: Final = 25.0
GROWTH: Final = 0.01667
"""Per day at 24 to 28 °C: 18.5 mm at 75 days, when the animals mature (Nur and Christianus 2013; Mahmoud and others
2020)."""
SLOW_GROWTH: Final = 0.0114
"""Per day below 24 °C, the slow bound. How much slower growth is at which temperature is not published."""
WARM_FROM: Final = 24.0


def length_at(age_days: float, *, slow: bool = False) -> float:
    """Total length in mm at an age: 25 - 22.7 exp(-k age), k 0.01667 a day at 24 to 28 °C and 0.0114 below."""
    rate = SLOW_GROWTH if slow else GROWTH
    return CEILING_MM - (CEILING_MM - HATCH_MM) * exp(-rate * max(age_days, 0.0))


def age_at(mm: float, *, slow: bool = False) -> float | None:
    """The age in days at a total length in mm: `length_at` the other way round; None for one that it never reaches."""
    if mm >= CEILING_MM:
        return None
    rate = SLOW_GROWTH if slow else GROWTH
    return max(0.0, log((CEILING_MM - HATCH_MM) / (CEILING_MM - mm)) / rate)


def is_cool(celsius: float | None) -> bool:
    """Whether growth is slow at a tank's temperature; a tank that was never measured counts as warm."""
    return celsius is not None and celsius < WARM_FROM
