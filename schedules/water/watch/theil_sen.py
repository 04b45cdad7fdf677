"""A line through readings that a few wrong ones do not turn: the median of all slopes, and Sen's interval.

Theil 1950; Sen 1968, J. Am. Stat. Assoc. 63:1379-1389; with the correction for ties of Hollander and Wolfe 1999.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import NormalDist, median


@dataclass(frozen=True, slots=True)
class Line:
    """Slope by unit of x with the ends of its interval, and the value at x = 0."""

    slope: float
    low: float
    high: float
    intercept: float

    def at(self, x: float) -> float:
        """The value of the line at a place."""
        return self.intercept + self.slope * x

    @property
    def rises_or_falls(self) -> bool:
        """Whether the whole interval lies on one side of nought."""
        return self.low > 0 or self.high < 0


def theil_sen(x: Sequence[float], y: Sequence[float], confidence: float = 0.95) -> Line | None:
    """The line through points; None where no two of them differ in x."""
    points = sorted(zip(x, y, strict=True))
    slopes = sorted(
        (later[1] - earlier[1]) / (later[0] - earlier[0])
        for number, earlier in enumerate(points)
        for later in points[number + 1 :]
        if later[0] > earlier[0]
    )
    if not slopes:
        return None
    slope = median(slopes)
    low, high = _interval(slopes, len(points), [Counter(values) for values in (x, y)], confidence)
    return Line(slope, low, high, median(y) - slope * median(x))


def _interval(slopes: list[float], count: int, ties: list[Counter[float]], confidence: float) -> tuple[float, float]:
    """The slopes so many places from the median that Kendall's statistic leaves between them with this confidence."""
    pairs = _spread(count) - sum(_spread(many) for values in ties for many in values.values())
    away = NormalDist().inv_cdf(0.5 + confidence / 2) * sqrt(max(pairs, 0.0) / 18)
    last = len(slopes) - 1
    upper = min(round((len(slopes) + away) / 2), last)
    lower = max(round((len(slopes) - away) / 2) - 1, 0)
    return slopes[lower], slopes[upper]


def _spread(many: int) -> float:
    return many * (many - 1) * (2 * many + 5)
