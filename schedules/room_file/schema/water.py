"""Water as a room file may describe it: what is read, targets and limits."""

from __future__ import annotations

from typing import Annotated

from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.values import Change, Finite, Flag, QuantityName, Some, TdsFactor, at_most


class BandSpec(Spec):
    """Between which values a quantity is to stay, in the room's units."""

    low: Finite | None = None
    high: Finite | None = None
    lowest: Finite | None = None
    highest: Finite | None = None
    daily: Change | None = None


class BandsSpec(Spec):
    """A band for each quantity that has one."""

    temperature: BandSpec | None = None
    conductivity: BandSpec | None = None
    tds: BandSpec | None = None
    ph: BandSpec | None = None
    gh: BandSpec | None = None
    kh: BandSpec | None = None
    ammonia: BandSpec | None = None
    nitrite: BandSpec | None = None
    nitrate: BandSpec | None = None


class WaterRulesSpec(Spec):
    """`[water]`: what the keeper reads in the tanks, and between which values it is to stay."""

    read: Annotated[Some[QuantityName], at_most(9)] | None = None
    tds_factor: TdsFactor | None = None
    compensated: Flag = True
    bands: BandsSpec = BandsSpec()
