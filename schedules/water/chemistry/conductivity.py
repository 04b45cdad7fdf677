"""Conductivity at 25 °C, and dissolved solids from it."""

from __future__ import annotations

from math import exp, log
from typing import Final

LEAST_CELSIUS: Final = 0.0
MOST_CELSIUS: Final = 35.0
F25: Final[tuple[tuple[float, float], ...]] = (
    (0, 1.918),
    (5, 1.643),
    (10, 1.428),
    (15, 1.256),
    (18, 1.168),
    (20, 1.116),
    (21, 1.091),
    (22, 1.067),
    (23, 1.044),
    (24, 1.021),
    (25, 1.000),
    (26, 0.979),
    (27, 0.959),
    (28, 0.940),
    (30, 0.903),
    (35, 0.822),
)
"""°C and the factor that brings the conductivity of natural water to 25 °C.

ISO 7888:1985 (EN 27888:1993), as printed in a meter's manual.
"""


def factor_to_25(celsius: float) -> float:
    """The factor of ISO 7888 at a temperature from 0 to 35 °C; outside of that ValueError.

    Between the printed degrees by Lagrange's cubic through the logarithms of the four next to it.
    """
    if not LEAST_CELSIUS <= celsius <= MOST_CELSIUS:
        raise ValueError(f"conductivity is brought to 25 °C from 0 to 35 °C, not from {celsius:g}")
    above = next(number for number, (degree, _) in enumerate(F25) if degree >= celsius)
    first = min(max(above - 2, 0), len(F25) - 4)
    near = F25[first : first + 4]
    return exp(sum(log(factor) * _weight(celsius, degree, near) for degree, factor in near))


def conductivity_at_25(microsiemens: float, celsius: float) -> float:
    """A conductivity in µS/cm as a meter without compensation shows it, at 25 °C."""
    return microsiemens * factor_to_25(celsius)


def conductivity_linear(microsiemens: float, celsius: float) -> float:
    """The same by 1.91 % for each degree, as many meters compensate (Standard Methods 2510 B, quoted from memory)."""
    return microsiemens / (1 + 0.0191 * (celsius - 25))


def solids_of(microsiemens: float, factor: float) -> float:
    """Dissolved solids in mg/L from a conductivity in µS/cm at 25 °C, by a stated factor."""
    return microsiemens * factor


def _weight(celsius: float, degree: float, near: tuple[tuple[float, float], ...]) -> float:
    weight = 1.0
    for other, _ in near:
        if other != degree:
            weight *= (celsius - other) / (degree - other)
    return weight
