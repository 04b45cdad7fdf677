"""A tank of which only some days are left to plan, the days around them given."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from schedules.plan.grid import NEVER, Floats, Grid, Ints
from schedules.plan.split import Split

_HELD = 2.0**34
"""What a serving costs or saves where it is not left open: more than any plan, and far less than `NEVER`."""


def split_in_span(grid: Grid, minute_price: Floats, price: Floats, sets: Ints, span: range) -> Split:
    """One tank taken apart, where its `sets` (D) are given but for the days of a span.

    `minute_price` (D R) counts in the span alone; `price` (1 D F) are the prices of servings known so far. The given
    days are paid in full: the bound of the split is one of the whole plan.
    """
    given = np.ones(grid.days, dtype=np.bool_)
    given[span.start : span.stop] = False
    other = np.ones(grid.set_cost.shape[1:], dtype=np.bool_)
    other[np.arange(grid.days), sets] = False
    set_cost = np.where(given[:, None] & other, NEVER, grid.set_cost)
    # A clock that serves when the plan does gets so much that it does; the calendar, which has no choice, pays it back.
    held = np.where(grid.sets[0].T[sets] > 0, -_HELD, _HELD)
    return Split(
        replace(grid, set_cost=set_cost),
        np.where(given[:, None], 0.0, minute_price),
        np.where(given[:, None], held, price),
    )
