"""Which tables and keys a room file may have: its shape, before defaults and units.

What a value may be stands in `values`; what depends on two keys at once, or on the room's units, in `checks`.
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, model_validator

from schedules.room_file.values import (
    MOST_TANKS,
    Acidity,
    BodyPercent,
    BreaksName,
    Count,
    Day,
    DoseError,
    Finite,
    Flag,
    FreeDay,
    Gap,
    GapOrNone,
    Generation,
    GrazingName,
    HardnessUnitName,
    Heads,
    Hours,
    Id,
    KindName,
    Length,
    Many,
    Measures,
    MethodName,
    Milligrams,
    Millilitres,
    Minutes,
    Name,
    Part,
    Percent,
    PerWeek,
    PerWeekOrNone,
    QuarantineDays,
    RuleText,
    Scale,
    Share,
    ShortestGap,
    Solids,
    Some,
    StageName,
    SurfaceName,
    TimeOfDay,
    UnitSystemName,
    Volume,
    Warming,
    Weekday,
    Weight,
    ZoneName,
    at_most,
)


class Spec(BaseModel):
    """A table of the room file: no key but its own, no value bent into another type, no NaN and no infinity."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)


class KeeperSpec(Spec):
    """`[[keepers]]`, or just a name in `keepers = ["Ada"]`."""

    name: Name
    days_off: Annotated[Many[FreeDay], at_most(200)] = ()
    off_rules: Annotated[Many[RuleText], at_most(20)] = ()
    off_from: Day | None = None

    @model_validator(mode="before")
    @classmethod
    def _just_a_name(cls, found: Any) -> Any:
        return {"name": found} if isinstance(found, str) else found


class RoundSpec(Spec):
    """`[[rounds]]`: one walk past the racks."""

    id: Id
    at: TimeOfDay


class ClockSpec(Spec):
    """`[clocks.NAME]`, for the room or for one tank: how often a need is to be answered."""

    min_gap: ShortestGap | None = None
    max_gap: GapOrNone | None = None
    per_week: PerWeekOrNone | None = None
    overdue: Weight | None = None
    rotate: Flag | None = None


class MeasureSpec(Spec):
    """What the keeper measures a feed with: its name, what one weighs, the smallest part that can be measured."""

    name: Name | None = None
    mg: Milligrams | None = None
    step: Measures | None = None


class LabelSpec(Spec):
    """The label's amount for one day: so many measures per so much water, in the room's unit of volume."""

    measures: Measures = 1.0
    per: Volume


class RulesSpec(Spec):
    """The rules of a feed that the keeper may set, for the feed or for one tank."""

    min_gap: Gap | None = None
    max_gap: Gap | None = None
    per_week: PerWeek | None = None
    share: Share | None = None
    most: Share | None = None
    minutes: Minutes | None = None
    method: MethodName | None = None
    gone_after_hours: Hours | None = None
    even_on_days_off: Flag | None = None


class OverrideSpec(RulesSpec):
    """`[racks.tanks.overrides.FEED]`: a tank's own rules for a feed, or `use = false` for none of it."""

    use: Flag = True


class FeedSpec(RulesSpec):
    """`[[feeds]]`: a feed in stock."""

    id: Id
    name: Name | None = None
    kind: KindName
    stages: Annotated[Some[StageName], at_most(20)] | None = None
    round: Id | None = None
    measure: MeasureSpec = MeasureSpec()
    protein: Percent | None = None
    label: LabelSpec | None = None
    best_before: Day | None = None
    draws: Flag | None = None
    extra: Flag = False
    known: Flag = False
    breaks: BreaksName | None = None
    may_be_ground: Flag = False
    wet_hours: Hours | None = None


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
    surface: SurfaceName = "rippled"
    grazing: GrazingName = "fair"
    rest: Weekday | None = None
    quarantine: Flag = False
    quarantine_days: QuarantineDays | None = None
    line: Name | None = None
    generation: Generation | None = None
    water: WaterSpec = WaterSpec()
    feeds: Annotated[Many[Id], at_most(200)] | None = None
    animals: Annotated[Many[AnimalsSpec], at_most(200)] = ()
    ration_mg: Milligrams | None = None
    overrides: dict[str, OverrideSpec] = {}
    clocks: dict[str, ClockSpec] = {}


class RackSpec(Spec):
    """`[[racks]]`: a rack, its tanks in walking order."""

    id: Id
    name: Name | None = None
    tanks: Annotated[Many[TankSpec], at_most(MOST_TANKS)] = ()


class BodyMassSpec(Spec):
    """Fresh body mass of one animal by stage."""

    shrimplet: Milligrams | None = None
    juvenile: Milligrams | None = None
    adult: Milligrams | None = None
    filter_feeder: Milligrams | None = None


class BodyPercentSpec(Spec):
    """Dry feed a day by stage, in percent of body mass."""

    shrimplet: BodyPercent | None = None
    juvenile: BodyPercent | None = None
    adult: BodyPercent | None = None
    filter_feeder: BodyPercent | None = None


class GrazedSpec(Spec):
    """The part of the need that grazing covers."""

    poor: Part | None = None
    fair: Part | None = None
    rich: Part | None = None


class FineMostSpec(Spec):
    """The most fine feed a day by grazing, mg/L."""

    poor: Milligrams | None = None
    fair: Milligrams | None = None
    rich: Milligrams | None = None


class AppetiteSpec(Spec):
    """`[appetite]`: what the animals eat, where the keeper knows better than the usual numbers."""

    body_mg: BodyMassSpec = BodyMassSpec()
    body_percent: BodyPercentSpec = BodyPercentSpec()
    grazed: GrazedSpec = GrazedSpec()
    fine_least: Milligrams | None = None
    fine_most: FineMostSpec = FineMostSpec()
    temperature: Finite | None = None
    q10: Warming | None = None


class VesselSpec(Spec):
    """A syringe or cup: what it holds and how far apart its marks are."""

    ml: Millilitres
    mark_ml: Millilitres


class ToolsSpec(Spec):
    """`[tools]`: what the keeper weighs, measures and mixes with."""

    scale_mg: Scale | None = None
    syringes: Annotated[Many[VesselSpec], at_most(50)] | None = None
    cups: Annotated[Many[VesselSpec], at_most(50)] | None = None
    jug_ml: Millilitres | None = None
    jug_error_ml: Millilitres | None = None
    error: DoseError | None = None
    plain: Flag = False
    adults_per_piece: Heads | None = None
    doses_ml: Annotated[Some[Millilitres], at_most(50)] | None = None
    cup_above_ml: Millilitres | None = None


class RoomSpec(Spec):
    """The whole file."""

    name: Name
    time_zone: ZoneName
    units: UnitSystemName = "metric"
    hardness: HardnessUnitName = "degrees"
    keepers: Annotated[Many[KeeperSpec], at_most(50)] = ()
    rounds: Annotated[Many[RoundSpec], at_most(24)] = ()
    clocks: dict[str, ClockSpec] = {}
    appetite: AppetiteSpec = AppetiteSpec()
    tools: ToolsSpec = ToolsSpec()
    feeds: Annotated[Some[FeedSpec], at_most(200)]
    racks: Annotated[Many[RackSpec], at_most(500)]
