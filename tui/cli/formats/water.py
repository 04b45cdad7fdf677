"""What `water` prints. °C, µS/cm at 25 °C, mg/L, pH, GH and KH in German degrees, whatever the room's units."""

from __future__ import annotations

from typing import Literal

from schedules.room.water.quantities import Quantity
from schedules.water.chemistry.sources import Formula
from schedules.water.watch.findings import FindingKind
from tui.cli.formats.base import Amount, Count, Day, Part


class Levels(Part):
    """Between which values a quantity is to stay: the target, the limits, the largest change in a day."""

    low: float | None
    high: float | None
    lowest: float | None
    highest: float | None
    daily: float | None


class Slope(Part):
    """How fast a quantity rises or falls, by the median of all slopes (Theil and Sen) with its 95 % interval."""

    a_day: float
    least: float
    most: float
    readings: Count
    since: Day
    bound: float | None
    """the target or limit that it passes, null where it passes none"""
    until: Day | None


class Quantities(Part):
    """The latest value of one quantity and how it changed."""

    quantity: Quantity
    value: float
    date: Day | None
    """null for a value of the room file"""
    change: float | None
    changed_since: Day | None
    days_read: Count
    too_few: bool
    """too little was read for the tank's own past to say anything"""
    band: Levels | None
    trend: Slope | None


class AmmoniaNow(Part):
    """The latest ammonia reading at the tank's own pH and temperature, mg/L of nitrogen."""

    total: Amount
    unionised: Amount
    chronic: Amount
    acute: Amount
    ph: float
    celsius: float


class TankWater(Part):
    """The water of one tank."""

    tank: str
    quantities: list[Quantities]
    ammonia: AmmoniaNow | None
    """null where ammonia, pH or temperature is not known"""


class Found(Part):
    """One thing that the readings show, in one tank or in several of a rack at once."""

    kind: FindingKind
    tank: str
    tanks: list[str]
    quantity: Quantity
    date: Day
    value: float
    before: float | None
    since: Day | None
    bound: float | None
    until: Day | None
    text: str
    """the same in English"""


class Published(Part):
    """A formula, where it was published, and where it holds."""

    formula: str
    published: str
    holds: str


class WaterNow(Part):
    """`rackround water --json`: tanks in walking order, what was found newest first."""

    format: Literal["rackround-water/1"]
    date: Day
    tanks: list[TankWater]
    findings: list[Found]
    sources: dict[Formula, Published]
