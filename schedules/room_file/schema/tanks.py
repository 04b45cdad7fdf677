"""Racks, tanks, their water and their animals as a room file may describe them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.feeds import ClockSpec, OverrideSpec
from schedules.room_file.schema.makeup import InsideSpec
from schedules.room_file.schema.values import (
    MOST_TANKS,
    Acidity,
    Count,
    Day,
    Finite,
    Flag,
    Generation,
    GrazingName,
    Id,
    Length,
    Many,
    Milligrams,
    Name,
    QuarantineDays,
    Solids,
    StageName,
    SurfaceName,
    Volume,
    Weekday,
    at_most,
)
from schedules.room_file.schema.water import BandsSpec


class WaterSpec(Spec):
    """The tank's water as last measured, in the room's units."""

    temperature: Finite | None = None
    ph: Acidity | None = None
    gh: Finite | None = None
    kh: Finite | None = None
    tds: Solids | None = None


class AnimalsSpec(Spec):
    """Animals of one stage in a tank, from the first to the last day on which they hold."""

    stage: StageName
    count: Count
    berried: Count = 0
    first: Day | None = Field(default=None, alias="from")
    last: Day | None = Field(default=None, alias="to")
    length: Length | None = None
    hatched: Day | None = None


class TankSpec(Spec):
    """`[[racks.tanks]]`: a tank where it stands and what lives in it."""

    id: Id
    name: Name | None = None
    place: Name | None = None
    volume: Volume
    inside: InsideSpec | None = None
    surface: SurfaceName = "rippled"
    grazing: GrazingName = "fair"
    rest: Weekday | None = None
    quarantine: Flag = False
    quarantine_days: QuarantineDays | None = None
    line: Name | None = None
    generation: Generation | None = None
    water: WaterSpec = WaterSpec()
    bands: BandsSpec = BandsSpec()
    feeds: Annotated[Many[Id], at_most(200)] | None = None
    animals: Annotated[Many[AnimalsSpec], at_most(200)] = ()
    ration_mg: Milligrams | None = None
    overrides: dict[str, OverrideSpec] = Field(default_factory=dict)
    clocks: dict[str, ClockSpec] = Field(default_factory=dict)


class RackSpec(Spec):
    """`[[racks]]`: a rack, its tanks in walking order."""

    id: Id
    name: Name | None = None
    tanks: Annotated[Many[TankSpec], at_most(MOST_TANKS)] = ()
