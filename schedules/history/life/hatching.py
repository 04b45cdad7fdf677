"""When eggs will hatch: a window of days from the day a female was seen berried, or the eyes in her eggs.

Published for Neocaridina: 15 days at 25 to 28 °C (Nur and Christianus 2013; Mahmoud and others 2020), and in texts that
seem to quote Tropea and others 2015 about 21 days at 24 °C and 12 at 32 °C. A thermal sum of 229.9 °C days above
12.52 °C was fitted to these. The window holds both, and two days more on either side. Nothing is said outside 24 to
32 °C.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from itertools import pairwise
from math import ceil, floor
from typing import Final

from schedules.history.life.values import Brood

PUBLISHED: Final = ((24.0, 21.0), (25.0, 15.0), (28.0, 15.0), (32.0, 12.0))
"""Temperature in °C and days to the hatch; straight lines between."""
COLDEST, WARMEST = PUBLISHED[0][0], PUBLISHED[-1][0]
THERMAL_SUM: Final = 229.9
THERMAL_ZERO: Final = 12.52
LEAST_OFF: Final = 2
"""Days that a window is wider than the published values, on either side."""
UNMEASURED: Final = (24.0, 28.0)
"""The range in °C that is assumed of water that was never measured."""
EYED_PART: Final = 0.4
"""The part of the time that is left at most when eyes are seen. Common practice, no source."""
ASKED_DAYS: Final = 14
"""For so long after a window has passed it is asked whether the young came; then the eggs are taken for lost."""
UNPUBLISHED_DAYS: Final = 42
"""After so many days eggs are taken for hatched or lost where no window can be given. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Window:
    """The first and the last day on which a hatch is expected."""

    first: date
    last: date

    def __contains__(self, day: date) -> bool:
        return self.first <= day <= self.last


@lru_cache(maxsize=256)
def incubation_days(celsius: float | None) -> tuple[float, float] | None:
    """The fewest and the most days from laying to hatching; None outside of what is published."""
    if celsius is None:
        known = [incubation_days(each) for each in UNMEASURED]
        return min(each[0] for each in known if each), max(each[1] for each in known if each)
    if not COLDEST <= celsius <= WARMEST:
        return None
    days = (_published(celsius), THERMAL_SUM / (celsius - THERMAL_ZERO))
    return min(days) - LEAST_OFF, max(days) + LEAST_OFF


def _published(celsius: float) -> float:
    for (cooler, slower), (warmer, faster) in pairwise(PUBLISHED):
        if celsius <= warmer:
            return slower + (faster - slower) * (celsius - cooler) / (warmer - cooler)
    raise ValueError(celsius)


def hatch_window(brood: Brood, celsius: float | None) -> Window | None:
    """When a brood is expected to hatch in a tank of a temperature; None outside of what is published.

    Eyes seen narrow the window of the berried day, down to two days either way; where the two do not meet, the eyes
    count alone.
    """
    days = incubation_days(celsius)
    if days is None:
        return None
    laid = None if brood.berried is None else _after(brood.berried, floor(days[0]), ceil(days[1]))
    if brood.eyed is None:
        return laid
    seen = _after(brood.eyed, 1, max(1 + 2 * LEAST_OFF, ceil(EYED_PART * days[1])))
    if laid is None:
        return seen
    both = Window(max(laid.first, seen.first), min(laid.last, seen.last))
    return both if (both.last - both.first).days >= 2 * LEAST_OFF else seen


def given_up(brood: Brood, celsius: float | None) -> date:
    """The day from which nothing is expected of a brood any more, since nothing was seen of it."""
    window = hatch_window(brood, celsius)
    if window is not None:
        return window.last + timedelta(days=ASKED_DAYS + 1)
    first = min(day for day in (brood.berried, brood.eyed) if day is not None)
    return first + timedelta(days=UNPUBLISHED_DAYS)


def _after(day: date, least: int, most: int) -> Window:
    return Window(day + timedelta(days=least), day + timedelta(days=most))
