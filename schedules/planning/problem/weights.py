"""The weights by which a plan is judged, kept in one place.

The hard rules (open days, shortest gaps, shares of a day) have no weight: a plan that breaks one is wrong. The cost of
an overdue day is not here: each clock says its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Weights:
    """The cost of one unaccompanied serving, one day off the week, one repeat, one minute, one change."""

    unaccompanied: float = 5.0
    weekly: float = 10.0
    repeat: float = 20.0
    longest_round: float = 30.0
    churn: float = 2.0
    late_churn: float = 0.5


WEIGHTS: Final = Weights()
CHURN_DAYS: Final = 7
"""A change on days 0 to 6 counts as churn, from day 7 on as late churn."""
FULL_DAY: Final = 1.0
"""The shares of a tank's servings at one table on one day add up to at most this."""
TOLERANCE: Final = 1e-9
"""Room for the rounding of sums such as 0.1 + 0.2 + 0.7, far below any share a keeper could write."""
