"""How many litres a tank has lost: by how far its level fell, or by how far its dissolved solids rose."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import Final, Literal

LEVEL_MM: Final = 1.0
"""How exactly a level is read on a ruler. Common practice, no source."""
METER_PART: Final = 0.01
"""How exactly one meter shows the same water again, as a part of the reading. Common practice, no source."""
_CM2_MM_PER_LITRE: Final = 10_000.0
"""Square centimetres times millimetres in a litre: 1 cm² × 1 mm is a tenth of a millilitre."""

LossBy = Literal["level", "litres", "tds", "usual"]


@dataclass(frozen=True, slots=True)
class Loss:
    """Litres lost, how far off that may be (± litres, None where nobody knows), and what it was read off."""

    litres: float
    error: float | None
    by: LossBy


def loss_by_level(footprint_cm2: float, drop_mm: float) -> Loss:
    """From a fall of the level: area × height. The area is that of the free water, cm² inside the glass."""
    return Loss(footprint_cm2 * drop_mm / _CM2_MM_PER_LITRE, footprint_cm2 * LEVEL_MM / _CM2_MM_PER_LITRE, "level")


def loss_by_tds(litres: float, before: float, now: float) -> Loss:
    """From dissolved solids that rose from `before` to `now` (mg/L) where nothing else was added: V·(1 - TDS₀/TDS).

    `litres` is the volume at `before`. Nothing was lost where it did not rise. ValueError unless both are above 0.
    """
    if before <= 0 or now <= 0:
        raise ValueError("a loss can be read off dissolved solids above 0 mg/L only")
    part = before / now
    return Loss(max(0.0, litres * (1 - part)), litres * part * hypot(METER_PART, METER_PART), "tds")
