"""Whole numbers in arrays: costs and minutes are counted so that sums are exact in any order, on any machine."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
AnyArray = NDArray[Any]

UNIT = 2.0**20
"""Cost units of a cost of 1. Costs of up to a thousand million stay exact."""
GRAIN = 2.0**10
"""Grains of one minute, a twentieth of a second each."""
NEVER = 2.0**48
"""The cost of what must not be: far above any cost, and some hundreds of them still add up exactly."""


def units(values: object) -> Floats:
    """Costs in whole units, rounded down so that a bound made of them is one."""
    found: Floats = np.floor(np.asarray(values, dtype=np.float64) * UNIT)
    return found


def grains(values: object) -> Floats:
    """Minutes in whole grains, rounded down."""
    found: Floats = np.floor(np.asarray(values, dtype=np.float64) * GRAIN)
    return found
