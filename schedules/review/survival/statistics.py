"""Intervals for a share, and the curve of those who live on: textbook statistics of a few numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt
from typing import Final

Z95: Final = 1.959963984540054
"""The 97.5 percent point of the normal distribution: of an interval of 95 percent."""


@dataclass(frozen=True, slots=True)
class Share:
    """A share between 0 and 1 with the interval it lies in."""

    share: float
    low: float
    high: float


def wilson(number: float, of: float, z: float = Z95) -> Share:
    """A share with Wilson's score interval (Wilson 1927), for `number` of `of`, `of` above 0."""
    share = number / of
    middle = share + z * z / (2 * of)
    half = z * sqrt(share * (1 - share) / of + z * z / (4 * of * of))
    whole = 1 + z * z / of
    return Share(share, max(0.0, (middle - half) / whole), min(1.0, (middle + half) / whole))


def wilson_of_ranges(number: float, numbers: tuple[float, float], of: float, ofs: tuple[float, float]) -> Share:
    """The share of two numbers that are themselves known within ranges only.

    The interval reaches from the least to the most that Wilson's gives anywhere within both ranges. More than all is
    taken as all.
    """
    made = [wilson(min(some, whole), whole) for some in numbers for whole in ofs if whole > 0]
    return Share(min(number, of) / of, min(each.low for each in made), max(each.high for each in made))


@dataclass(frozen=True, slots=True)
class Step:
    """A time at which some died: how many were left to die, how many did, the share that lives on after it."""

    time: float
    at_risk: int
    died: int
    share: float


def kaplan_meier(deaths: Iterable[tuple[float, int]], left: Iterable[tuple[float, int]]) -> tuple[Step, ...]:
    """The product-limit estimate (Kaplan and Meier 1958), a step for each time at which some died.

    `deaths` and `left` are times and heads: those that died then, and those that were alive when they were last seen.
    At the same time the dead go first.
    """
    died, gone = Counter[float](), Counter[float]()
    for time, heads in deaths:
        died[time] += heads
    for time, heads in left:
        gone[time] += heads
    at_risk, share, steps = died.total() + gone.total(), 1.0, []
    for time in sorted({*died, *gone}):
        if died[time]:
            share *= 1 - died[time] / at_risk
            steps.append(Step(time, at_risk, died[time], share))
        at_risk -= died[time] + gone[time]
    return tuple(steps)


def share_at(steps: Iterable[Step], time: float) -> float:
    """The share that lives on at a time, by the curve."""
    return next((step.share for step in reversed(tuple(steps)) if step.time <= time), 1.0)
