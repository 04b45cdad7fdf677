"""Which keys a room file may have and what each may hold: the file's shape, before defaults and units.

Every scalar ends in an `Allowed`, which is the one sentence the keeper reads whatever is wrong with the value. What
depends on two keys at once, or on the room's units, stands in `checks`.
"""

from __future__ import annotations

from datetime import date, time
from typing import Annotated, Any, Final, Literal, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, model_validator

from schedules.kinds import Grazing, Kind, Method, Stage, Surface
from schedules.room_file.scalars import (
    FIRST_DATE,
    LAST_DATE,
    WEEKDAYS,
    Allowed,
    DayOff,
    among,
    one_of,
    read_day_off,
    read_id,
    read_text,
    read_time,
    read_weekday,
)

NO_GROUP: Final = "none"
"""What a feed's `group` says to belong to no rotation group where its kind would."""

T = TypeVar("T")
UnitSystem = Literal["metric", "us"]
HardnessUnit = Literal["degrees", "mg/L"]

Many = Annotated[tuple[T, ...], Field(strict=False)]
"""A TOML array; kept as a tuple, which strict reading would refuse to make of a list."""
Id = Annotated[
    str,
    BeforeValidator(read_id),
    Allowed("a short id: 1 to 32 characters, no spaces or control characters, not starting with -"),
]
Name = Annotated[
    str, BeforeValidator(read_text), Allowed("a text on one line, 1 to 200 characters, no control characters")
]
Day = Annotated[date, Field(ge=FIRST_DATE, le=LAST_DATE), Allowed("a date from 2000-01-01 to 2199-12-31, no quotes")]
TimeOfDay = Annotated[time, BeforeValidator(read_time), Allowed('a time of day, as in 07:00:00 or "07:00"')]
Weekday = Annotated[int, BeforeValidator(read_weekday), Allowed(one_of(WEEKDAYS), WEEKDAYS)]
FreeDay = Annotated[
    DayOff, BeforeValidator(read_day_off), Allowed("a weekday, a date, or { from = DATE, to = DATE }", WEEKDAYS)
]
RuleText = Annotated[str, Field(max_length=500), Allowed('a recurrence rule, as in "FREQ=WEEKLY;INTERVAL=2;BYDAY=SA"')]
ZoneName = Annotated[str, Allowed('the name of a time zone, as in "Europe/Vienna"')]
Count = Annotated[int, Field(ge=0, le=1_000_000), Allowed("a whole number from 0 to 1000000")]
Flag = Annotated[bool, Allowed("true or false")]
Gap = Annotated[int, Field(ge=1, le=90), Allowed("a whole number of days from 1 to 90")]
PerWeek = Annotated[float, Field(gt=0, le=7), Allowed("servings a week, above 0, up to 7")]
Share = Annotated[float, Field(gt=0, le=1), Allowed("a part of a day's ration, above 0, up to 1 (0.6 means 60 %)")]
Minutes = Annotated[float, Field(ge=0, le=120), Allowed("minutes from 0 to 120")]
Hours = Annotated[float, Field(gt=0, le=168), Allowed("hours, above 0, up to 168")]
Milligrams = Annotated[float, Field(gt=0, le=100_000), Allowed("milligrams, above 0, up to 100000")]
Measures = Annotated[float, Field(gt=0, le=1000), Allowed("a number of measures, above 0, up to 1000")]
Volume = Annotated[
    float, Field(gt=0, le=20_000), Allowed('a volume above 0, up to 20000 (litres, or US gallons with units = "us")')
]
Percent = Annotated[float, Field(ge=0, le=100), Allowed("percent of dry feed as on the pack, 0 or from 1 to 100")]
Finite = Annotated[float, Field(ge=-1e6, le=1e6), Allowed("a number")]
Acidity = Annotated[float, Field(ge=3, le=11), Allowed("a pH from 3 to 11")]
Solids = Annotated[float, Field(ge=0, le=5000), Allowed("dissolved solids from 0 to 5000 mg/L")]
KindName = Annotated[Kind, among(Kind)]
StageName = Annotated[Stage, among(Stage)]
MethodName = Annotated[Method, among(Method)]
SurfaceName = Annotated[Surface, among(Surface)]
GrazingName = Annotated[Grazing, among(Grazing)]


class Spec(BaseModel):
    """A table of the room file: no key but its own, no value bent into another type, no NaN and no infinity."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False)


class KeeperSpec(Spec):
    """`[[keepers]]`, or just a name in `keepers = ["Ada"]`."""

    name: Name
    days_off: Many[FreeDay] = ()
    off_rules: Many[RuleText] = ()
    off_from: Day | None = None

    @model_validator(mode="before")
    @classmethod
    def _just_a_name(cls, found: Any) -> Any:
        return {"name": found} if isinstance(found, str) else found


class RoundSpec(Spec):
    """`[[rounds]]`: one walk past the racks."""

    id: Id
    at: TimeOfDay


class GroupSpec(Spec):
    """`[groups.NAME]`: feeds that take turns."""

    min_gap: Gap


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
    stages: Many[StageName] | None = None
    group: Id | None = None
    round: Id | None = None
    measure: MeasureSpec = MeasureSpec()
    protein: Percent | None = None
    label: LabelSpec | None = None
    best_before: Day | None = None


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
    water: WaterSpec = WaterSpec()
    feeds: Many[Id] | None = None
    animals: Many[AnimalsSpec] = ()
    overrides: dict[str, OverrideSpec] = {}


class RackSpec(Spec):
    """`[[racks]]`: a rack, its tanks in walking order."""

    id: Id
    name: Name | None = None
    tanks: Many[TankSpec] = ()


class RoomSpec(Spec):
    """The whole file."""

    name: Name
    time_zone: ZoneName
    units: Annotated[UnitSystem, among(UnitSystem)] = "metric"
    hardness: Annotated[HardnessUnit, among(HardnessUnit)] = "degrees"
    keepers: Many[KeeperSpec] = ()
    rounds: Many[RoundSpec] = ()
    groups: dict[Id, GroupSpec] = {}
    feeds: Many[FeedSpec]
    racks: Many[RackSpec]
