"""What the keeper reads in the water, and between which values each quantity is to stay."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from schedules.room.water.quantities import Quantity

TDS_FACTOR: Final = 0.5
"""mg/L of dissolved solids for each µS/cm at 25 °C. Meters that convert by table salt use about 0.5 (744.7 mg/L of KCl
and 702.1 of NaCl at 1413 µS/cm, so 0.53 and 0.50), those for natural water about 0.7."""


@dataclass(frozen=True, slots=True)
class Band:
    """Between which values a quantity is to stay, in the domain's units; None where the keeper says nothing.

    `low` and `high` are the target, `lowest` and `highest` the limits that must never be passed, `daily` the largest
    change from one day to the next.
    """

    low: float | None = None
    high: float | None = None
    lowest: float | None = None
    highest: float | None = None
    daily: float | None = None


@dataclass(frozen=True, slots=True)
class WaterRules:
    """What is read, in the order in which it is asked for; how conductivity is read and turned into dissolved solids.

    `compensated`: the meter shows conductivity at 25 °C already. `bands` are those of the whole room.
    """

    read: tuple[Quantity, ...] = ("temperature", "tds")
    tds_factor: float = TDS_FACTOR
    compensated: bool = True
    bands: Mapping[Quantity, Band] = field(default_factory=dict)
