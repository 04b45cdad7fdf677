"""The values of a room file by what they mean, each with its limits and the one sentence that says what is allowed.

The limits are wide: they catch slips of the pen and mixed-up units, not unusual rooms.
"""

from __future__ import annotations

from datetime import date, time
from typing import Annotated, Any, Final, Literal, TypeVar

from pydantic import AfterValidator, BeforeValidator, Field
from pydantic_core import PydanticCustomError

from schedules.room.kinds import Breaks, Grazing, Kind, Method, Stage, Surface
from schedules.room.water.quantities import Quantity
from schedules.room_file.schema.ledger_key import ALLOWED as LEDGER_ALLOWED
from schedules.room_file.schema.scalars import (
    FIRST_DATE,
    LAST_DATE,
    WEEKDAYS,
    Allowed,
    DayOff,
    among,
    one_of,
    read_day_off,
    read_id,
    read_ledger,
    read_some,
    read_text,
    read_time,
    read_weekday,
)

NONE: Final = "none"
"""What `scale_mg` says where there is no scale, and a clock's `max_gap` or `per_week` where it has none."""

MOST_TANKS: Final = 5000
"""Of a whole room."""
MOST_OFF_RULES: Final = 24
"""Of all keepers of a room: every day that is planned is looked up in each of them."""

T = TypeVar("T")
UnitSystem = Literal["metric", "us"]
HardnessUnit = Literal["degrees", "mg/L"]

Many = Annotated[tuple[T, ...], Field(strict=False)]
"""A TOML array; kept as a tuple, which strict reading would refuse to make of a list."""
Some = Annotated[tuple[T, ...], Field(strict=False), AfterValidator(read_some)]
"""A TOML array that is not empty."""


def at_most(most: int) -> BeforeValidator:
    """A limit on the length of an array, looked at before what is in it."""

    def check(found: Any) -> Any:
        if isinstance(found, list) and len(found) > most:
            raise PydanticCustomError("too_long", "too long", {"max_length": most})
        return found

    return BeforeValidator(check)


Id = Annotated[
    str,
    BeforeValidator(read_id),
    Allowed("a short id: 1 to 32 characters, no spaces or control characters, not starting with -"),
]
Name = Annotated[
    str, BeforeValidator(read_text), Allowed("a text on one line, 1 to 200 characters, no control characters")
]
LedgerPlace = Annotated[str, BeforeValidator(read_ledger), Allowed(LEDGER_ALLOWED)]
Phone = Annotated[
    str, BeforeValidator(read_text), Field(max_length=40), Allowed("a telephone number in quotes, up to 40 characters")
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
ShortestGap = Annotated[int, Field(ge=0, le=90), Allowed("a whole number of days from 0 to 90")]
GapOrNone = Annotated[
    Annotated[int, Field(ge=1, le=90)] | Literal["none"],
    Allowed('a whole number of days from 1 to 90, or "none"', ("none",)),
]
PerWeek = Annotated[float, Field(ge=0.05, le=7), Allowed("servings a week from 0.05 to 7")]
PerWeekOrNone = Annotated[
    Annotated[float, Field(ge=0.05, le=7)] | Literal["none"],
    Allowed('days a week from 0.05 to 7, or "none"', ("none",)),
]
Weight = Annotated[float, Field(gt=0, le=10_000), Allowed("a weight, above 0, up to 10000")]
Length = Annotated[float, Field(ge=1, le=200), Allowed("millimetres from 1 to 200")]
Heads = Annotated[float, Field(ge=1, le=1000), Allowed("a number of animals from 1 to 1000")]
QuarantineDays = Annotated[int, Field(ge=1, le=365), Allowed("a whole number of days from 1 to 365")]
Generation = Annotated[int, Field(ge=0, le=1000), Allowed("a whole number from 0 to 1000")]
Share = Annotated[float, Field(ge=0.001, le=1), Allowed("a part of a day's ration from 0.001 to 1 (0.6 means 60 %)")]
Minutes = Annotated[float, Field(ge=0, le=120), Allowed("minutes from 0 to 120")]
Hours = Annotated[float, Field(ge=0.01, le=168), Allowed("hours from 0.01 to 168")]
Milligrams = Annotated[float, Field(ge=0.001, le=100_000), Allowed("milligrams from 0.001 to 100000")]
PackGrams = Annotated[float, Field(ge=0.1, le=100_000), Allowed("grams from 0.1 to 100000")]
LeadDays = Annotated[int, Field(ge=0, le=180), Allowed("a whole number of days from 0 to 180")]
KeepsDays = Annotated[int, Field(ge=1, le=2000), Allowed("a whole number of days from 1 to 2000")]
Measures = Annotated[float, Field(ge=0.001, le=1000), Allowed("a number of measures from 0.001 to 1000")]
Volume = Annotated[
    float, Field(ge=0.1, le=20_000), Allowed('a volume from 0.1 to 20000 (litres, or US gallons with units = "us")')
]
Percent = Annotated[float, Field(ge=0, le=100), Allowed("percent of dry feed as on the pack, 0 or from 1 to 100")]
Finite = Annotated[float, Field(ge=-1e6, le=1e6), Allowed("a number")]
Acidity = Annotated[float, Field(ge=3, le=11), Allowed("a pH from 3 to 11")]
Solids = Annotated[float, Field(ge=0, le=5000), Allowed("dissolved solids from 0 to 5000 mg/L")]
Conductivity = Annotated[float, Field(ge=0, le=10_000), Allowed("a conductivity from 0 to 10000 µS/cm at 25 °C")]
Grams = Annotated[float, Field(ge=0.01, le=10_000), Allowed("grams from 0.01 to 10000")]
MassPercent = Annotated[float, Field(gt=0, le=100), Allowed("percent of the salt's mass, above 0, up to 100")]
Side = Annotated[float, Field(ge=1, le=1000), Allowed('centimetres from 1 to 1000 (inches with units = "us")')]
BodyPercent = Annotated[float, Field(ge=0.001, le=50), Allowed("percent of body mass a day from 0.001 to 50")]
Part = Annotated[float, Field(ge=0, le=1), Allowed("a part from 0 to 1")]
Warming = Annotated[float, Field(ge=1, le=5), Allowed("a factor from 1 to 5 for ten degrees")]
Millilitres = Annotated[float, Field(ge=0.001, le=20_000), Allowed("millilitres from 0.001 to 20000")]
DoseError = Annotated[float, Field(ge=0.001, le=0.5), Allowed("a part of a dose from 0.001 to 0.5 (0.1 means 10 %)")]
Scale = Annotated[
    Annotated[float, Field(ge=0.001, le=10_000)] | Literal["none"],
    Allowed('what the scale reads to in milligrams from 0.001 to 10000, or "none"', ("none",)),
]
TdsFactor = Annotated[float, Field(ge=0.3, le=1), Allowed("mg/L for each µS/cm from 0.3 to 1")]
Change = Annotated[float, Field(gt=0, le=10_000), Allowed("a change in one day, above 0, up to 10000")]
QuantityName = Annotated[Quantity, among(Quantity)]
KindName = Annotated[Kind, among(Kind)]
StageName = Annotated[Stage, among(Stage)]
BreaksName = Annotated[Breaks, among(Breaks)]
MethodName = Annotated[Method, among(Method)]
SurfaceName = Annotated[Surface, among(Surface)]
GrazingName = Annotated[Grazing, among(Grazing)]
UnitSystemName = Annotated[UnitSystem, among(UnitSystem)]
HardnessUnitName = Annotated[HardnessUnit, among(HardnessUnit)]
