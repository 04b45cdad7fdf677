"""The weights by which a plan is judged, kept in one place.

The hard rules (open days, minimum gaps of a feed and of its rotation group, shares of a day) have no weight: a plan
that breaks one is wrong. `schedules.checker` states both a second time, from the JSON alone, and shares no code with
the planner.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Weights:
    """Cost of a day overdue, a powder unaccompanied, a serving off the week, a repeat, a minute, a change."""

    overdue: float = 200.0
    unaccompanied: float = 5.0
    weekly: float = 10.0
    repeat: float = 20.0
    longest_round: float = 30.0
    churn: float = 2.0


WEIGHTS: Final = Weights()
CHURN_DAYS: Final = 7
"""Days 0 to 6 of a plan are compared with the posted plan."""
FULL_DAY: Final = 1.0
"""The shares of a tank's servings on one day add up to at most this."""
SHARE_TOLERANCE: Final = 1e-9
"""Room for the rounding of sums such as 0.1 + 0.2 + 0.7, far below any share a keeper could write."""
