"""How far off a scale, a syringe or a jug may be, from published tolerances."""

from __future__ import annotations

from math import hypot, sqrt
from typing import Final, Literal

from schedules.room import Vessel

ScaleClass = Literal["II", "III"]
_BANDS: Final[dict[ScaleClass, tuple[tuple[float, float], ...]]] = {
    "II": ((5_000, 0.5), (20_000, 1.0), (100_000, 1.5)),
    "III": ((500, 0.5), (2_000, 1.0), (10_000, 1.5)),
}


def syringe_error(capacity_ml: float, dose_ml: float) -> float:
    """Tolerance of a dose from a syringe, ± mL, after ISO 7886-1 Table 1.

    Below half of the capacity 1.5 % of the capacity plus 2 % of the dose (1 % from 5 mL up), from half of it on 5 % of
    the dose (4 %). The figures for 1 and 10 mL were read in a test laboratory's worksheet; where the classes meet, at
    5 mL, is from memory.
    """
    small = capacity_ml < 5
    if dose_ml < capacity_ml / 2:
        return 0.015 * capacity_ml + (0.02 if small else 0.01) * dose_ml
    return (0.05 if small else 0.04) * dose_ml


def vessel_error(vessel: Vessel, dose_ml: float) -> float:
    """Tolerance of a dose from a syringe or a cup, ± mL. A cup is read to half a mark: common practice, no source."""
    return syringe_error(vessel.ml, dose_ml) if vessel.syringe else vessel.mark_ml / 2


def scale_error(mass: float, interval: float, scale: ScaleClass = "III", *, in_service: bool = False) -> float:
    """Largest error permitted of a verified scale, ± in the unit of `mass`, after OIML R 76-1 Table 6.

    `interval` is the verification interval e; in service twice the error is permitted. ValueError beyond the table.
    """
    for most, errors in _BANDS[scale]:
        if mass <= most * interval:
            return errors * interval * (2 if in_service else 1)
    raise ValueError(f"{mass} is more than a scale of class {scale} with an interval of {interval} may weigh")


def weighing_error(mass_mg: float, readability_mg: float, verified_mg: float | None = None) -> float:
    """Relative error of a mass weighed after taring: two readings, each off by up to half the readability.

    That is rounding alone, and a scale may be worse. Where it is verified with an interval of `verified_mg`, what class
    III permits in service counts if it is more.
    """
    rounding = readability_mg / 2 * sqrt(2)
    if verified_mg is None:
        return rounding / mass_mg
    return max(rounding, scale_error(min(mass_mg, 10_000 * verified_mg), verified_mg, in_service=True)) / mass_mg


def root_sum_square(*errors: float) -> float:
    """Independent errors taken together."""
    return hypot(*errors)
