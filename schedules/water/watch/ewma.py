"""The exponentially weighted moving average and its control limits.

NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4; the limits for the first readings as in Lucas and Saccucci
1990, Technometrics 32:1-12.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import sqrt

Limits = tuple[float, float]


def averages(values: Iterable[float], start: float, weight: float) -> list[float]:
    """The moving average before the first value (`start`) and after each; the newest has so much weight (0 to 1)."""
    found = [start]
    for value in values:
        found.append(moved(found[-1], value, weight))
    return found


def moved(average: float, value: float, weight: float) -> float:
    """The average after one more value."""
    return weight * value + (1 - weight) * average


def limits(mean: float, spread: float, weight: float, width: float, count: int | None = None) -> Limits:
    """Lower and upper limit, `width` standard deviations of the average from the mean.

    After `count` values; None for after very many.
    """
    away = width * spread * sqrt(variance_part(weight, count))
    return mean - away, mean + away


def variance_part(weight: float, count: int | None = None) -> float:
    """The variance of the average after `count` values, as a part of that of one value."""
    settled = weight / (2 - weight)
    return settled if count is None else settled * (1 - (1 - weight) ** (2 * count))


def start_part(weight: float, count: int) -> float:
    """How much of an error of the mean shows in the average's distance from it, after `count` values."""
    return 1 - float((1 - weight) ** count)
