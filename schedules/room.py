"""The room as the rest of the program sees it: units settled, defaults filled in, references resolved.

Volumes are litres, masses mg, temperatures °C, hardness degrees (dGH, dKH), gaps days. What unit the keeper reads and
writes is kept in `Room.units` and applied at the edge (`schedules.units`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from functools import cached_property
from zoneinfo import ZoneInfo

from schedules.kinds import Grazing, Kind, Method, Stage, Surface, is_fine


@dataclass(frozen=True, slots=True)
class Units:
    """What the keeper reads: litres and °C or US gallons and °F, degrees of hardness or mg/L."""

    us: bool = False
    hardness_mg_per_litre: bool = False


@dataclass(frozen=True, slots=True)
class Keeper:
    """A person who walks the round, and the days on which this person does not.

    `off_weekdays` counts Monday as 0; `off_dates` are single days; `off_rules` are RFC 5545 recurrence rules read from
    `off_from`, for what neither can say (every other Saturday).
    """

    name: str
    off_weekdays: frozenset[int] = frozenset()
    off_dates: frozenset[date] = frozenset()
    off_rules: tuple[str, ...] = ()
    off_from: date | None = None


@dataclass(frozen=True, slots=True)
class RoundTime:
    """One walk past the racks: its id and the wall-clock time it starts in the room's zone."""

    id: str
    at: time


@dataclass(frozen=True, slots=True)
class FeedRules:
    """How one feed is given: gaps in days, servings per week, share of a day's ration, minutes for one serving."""

    min_gap: int
    max_gap: int
    per_week: float
    share: float
    minutes: float
    method: Method
    gone_after_hours: float
    even_on_days_off: bool


@dataclass(frozen=True, slots=True)
class Measure:
    """The keeper's own measure of a feed: its name, what one weighs (mg), the smallest part that can be measured."""

    name: str
    mg: float
    step: float


@dataclass(frozen=True, slots=True)
class Feed:
    """A feed in stock with the rules it has where a tank does not override them.

    `label_mg_per_litre` is the label's amount for one day by the tank's volume; `protein` is a fraction of dry mass.
    """

    id: str
    name: str
    kind: Kind
    stages: frozenset[Stage]
    group: str | None
    round: str
    measure: Measure
    protein: float
    label_mg_per_litre: float
    best_before: date | None
    rules: FeedRules

    @property
    def fine(self) -> bool:
        """Whether this is a fine feed (powder-like) rather than a solid one."""
        return is_fine(self.kind)


@dataclass(frozen=True, slots=True)
class Presence:
    """Animals of one stage in a tank, from the first to the last day on which they hold (both included)."""

    stage: Stage
    count: int
    berried: int = 0
    first: date | None = None
    last: date | None = None

    def on(self, day: date) -> bool:
        """Whether these animals are in the tank on a day."""
        return (self.first is None or self.first <= day) and (self.last is None or day <= self.last)


@dataclass(frozen=True, slots=True)
class Water:
    """The tank's water as last set down by the keeper: °C, pH, °dGH, °dKH, dissolved solids in mg/L."""

    temperature: float | None = None
    ph: float | None = None
    gh: float | None = None
    kh: float | None = None
    tds: float | None = None


@dataclass(frozen=True, slots=True)
class Tank:
    """A tank where it stands, what lives in it, and the rules of each feed it takes.

    `feeds` holds, in the order of the stock, the rules of every feed this tank may get, overrides applied. Whether a
    feed is wanted on a day depends on the stages present.
    """

    id: str
    name: str
    rack: str
    place: str
    litres: float
    animals: tuple[Presence, ...]
    surface: Surface
    grazing: Grazing
    rest_weekday: int | None
    quarantine: bool
    water: Water
    feeds: Mapping[str, FeedRules]

    def count(self, stage: Stage, day: date) -> int:
        """Head count of one stage on a day."""
        return sum(here.count for here in self.animals if here.stage == stage and here.on(day))

    def stages(self, day: date) -> frozenset[Stage]:
        """Stages with at least one animal on a day."""
        return frozenset(here.stage for here in self.animals if here.count > 0 and here.on(day))


@dataclass(frozen=True, slots=True)
class Rack:
    """A rack and the ids of its tanks in walking order."""

    id: str
    name: str
    tanks: tuple[str, ...]


@dataclass(frozen=True)
class Room:
    """Everything the room file says, checked and complete."""

    name: str
    zone: ZoneInfo
    units: Units
    keepers: tuple[Keeper, ...]
    rounds: tuple[RoundTime, ...]
    group_gaps: Mapping[str, int]
    racks: tuple[Rack, ...]
    tanks: Mapping[str, Tank]
    feeds: Mapping[str, Feed]

    @cached_property
    def walk(self) -> tuple[str, ...]:
        """Tank ids in walking order: racks as written, quarantine last so that nothing is carried out of it."""
        order = [tank for rack in self.racks for tank in rack.tanks]
        return tuple(sorted(order, key=lambda tank: self.tanks[tank].quarantine))

    def day(self, now: datetime) -> date:
        """The room's own date at an instant (`now` aware)."""
        return now.astimezone(self.zone).date()
