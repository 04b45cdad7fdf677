"""The room as the rest of the program sees it: units settled, defaults filled in, references resolved.

Volumes are litres, masses mg, temperatures °C, hardness degrees (dGH, dKH), gaps days. What unit the keeper reads and
writes is kept in `Room.units` and applied at the edge (`schedules.room.units`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from functools import cached_property
from typing import Any
from zoneinfo import ZoneInfo

from schedules.room.chores import Chore, ChorePlace
from schedules.room.clocks import DEFAULT_CLOCKS, ClockRules
from schedules.room.equipment import QuarantineRules, Tools
from schedules.room.feeding_day import feeding_day
from schedules.room.kinds import Breaks, Grazing, Kind, Method, Stage, Surface, Table, is_fine, table_of
from schedules.room.units import Units
from schedules.room.water.quantities import Quantity
from schedules.room.water.rules import Band, WaterRules
from schedules.room.water.sources import Salt, SourceWater


@dataclass(frozen=True, slots=True)
class Keeper:
    """A person who walks the round, and the days on which this person does not.

    `off_weekdays` counts Monday as 0; `off_dates` are single days; `off_rules` are RFC 5545 recurrence rules read from
    `off_from`, for what neither can say (every other Saturday). `phone` is printed for a helper to call.
    """

    name: str
    off_weekdays: frozenset[int] = frozenset()
    off_dates: frozenset[date] = frozenset()
    off_rules: tuple[str, ...] = ()
    off_from: date | None = None
    phone: str | None = None


@dataclass(frozen=True, slots=True)
class RoundTime:
    """One walk past the racks: its id and the wall-clock time it starts in the room's zone."""

    id: str
    at: time


@dataclass(frozen=True, slots=True)
class FeedRules:
    """How one feed is given: gaps in days, servings per week, parts of a day's ration, minutes for one serving.

    `max_gap` and `per_week` are the keeper's own words on this very feed; None leaves them to the clocks it answers.
    `share` and `most` are the least and the largest part of its table's ration of a day that one serving takes.
    """

    min_gap: int
    max_gap: int | None
    per_week: float | None
    share: float
    minutes: float
    method: Method
    gone_after_hours: float
    even_on_days_off: bool
    most: float = 1.0


@dataclass(frozen=True, slots=True)
class Measure:
    """The keeper's own measure of a feed: its name, what one weighs (mg), the smallest part that can be measured."""

    name: str
    mg: float
    step: float


@dataclass(frozen=True, slots=True)
class Packs:
    """How a feed is bought: grams in a pack (None: not said), days from order to delivery, days an open pack keeps.

    Seven days to delivery: common practice, no source.
    """

    grams: float | None = None
    lead_days: int = 7
    keeps_days: int | None = None


@dataclass(frozen=True, slots=True)
class Feed:
    """A feed in stock with the rules it has where a tank does not override them.

    `label_mg_per_litre` is the label's amount for one day by the tank's volume; `protein` is a fraction of dry mass.
    `draws`: it gathers the adults at one spot. `extra`: it is a grazing surface, given by the piece outside any ration.
    `known`: the animals already eat it, so that it starts at its full part. `breaks`: how far a piece can be divided.
    `may_be_ground`: the keeper agrees to grind it into a mix. `wet_hours`: how long a wet batch keeps; None for the
    same day.
    """

    id: str
    name: str
    kind: Kind
    stages: frozenset[Stage]
    round: str
    measure: Measure
    protein: float
    label_mg_per_litre: float
    best_before: date | None
    rules: FeedRules
    draws: bool = False
    extra: bool = False
    known: bool = False
    breaks: Breaks = "half"
    may_be_ground: bool = False
    wet_hours: float | None = None
    packs: Packs = Packs()

    @property
    def fine(self) -> bool:
        """Whether this is a fine feed (powder-like) rather than a solid one."""
        return is_fine(self.kind)

    @property
    def table(self) -> Table:
        """Where it is eaten, and so which ration of a day it takes a part of."""
        return table_of(self.kind)


@dataclass(frozen=True, slots=True)
class Presence:
    """Animals of one stage in a tank, from the first to the last day on which they hold (both included).

    `length` is measured from the tip of the rostrum to the tail, mm; `hatched` the day on which they hatched.
    `expected`: they have not been seen yet, but a berried female has. `goes_on`: the same animals were there before
    `first`, in another number or at another stage.
    """

    stage: Stage
    count: int
    berried: int = 0
    first: date | None = None
    last: date | None = None
    length: float | None = None
    hatched: date | None = None
    expected: bool = False
    goes_on: bool = False

    @property
    def hatch_day(self) -> date | None:
        """The day they hatched: as written, and for shrimplets else the first day on which they hold."""
        return self.hatched or (self.first if self.stage == "shrimplet" and not self.goes_on else None)

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
    feed is wanted on a day depends on the stages present. `ration_mg` is the keeper's own word on what its animals need
    in a day, mg of dry feed; None leaves it to be worked out. `clocks` are those that differ from the room's.
    `quarantine_days` (its own, else the room's) are counted from the last animals that came in; None for a quarantine
    without an end. `line` and
    `generation` are the keeper's own words on which line it breeds, and how far that is; nothing is fed by them.
    `arrived` is the last day on which animals were seen to come in.
    `bands` say between which values its water is to stay, the room's where the tank has none of its own.
    `footprint_cm2` is the area of its free water.
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
    ration_mg: float | None = None
    clocks: Mapping[str, ClockRules] = field(default_factory=dict)
    quarantine_days: int | None = None
    line: str | None = None
    generation: int | None = None
    arrived: date | None = None
    bands: Mapping[Quantity, Band] = field(default_factory=dict)
    footprint_cm2: float | None = None

    @property
    def label(self) -> str:
        """The id and the name, or the id alone where the name says nothing more."""
        return self.id if self.name == self.id else f"{self.id} {self.name}"

    def count(self, stage: Stage, day: date) -> int:
        """Head count of one stage on a day, without young that are only expected."""
        return sum(here.count for here in self.animals if here.stage == stage and not here.expected and here.on(day))

    def stages(self, day: date) -> frozenset[Stage]:
        """Stages with at least one animal on a day."""
        return frozenset(here.stage for here in self.animals if here.count > 0 and here.on(day))


@dataclass(frozen=True, slots=True)
class Rack:
    """A rack and the ids of its tanks in walking order."""

    id: str
    name: str
    tanks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Appetite:
    """What animals eat, as far as it is known. Where the defaults come from stands at `schedules.amounts.ration.need`.

    `body_mg` (fresh body mass, mg) and `body_percent` (dry feed a day, percent of it) are the keeper's own figures by
    stage; where there is none, mass is worked out from length and need from mass. `grazed` is the part of the need that
    grazing covers (0 to 1); `fine_least` and `fine_most` bound fine feed in the water, mg/L a day; `q10` is how many
    times more is eaten ten degrees warmer than `celsius`.
    """

    body_mg: Mapping[Stage, float] = field(default_factory=dict)
    body_percent: Mapping[Stage, float] = field(default_factory=dict)
    grazed: Mapping[Grazing, float] = field(default_factory=lambda: {"poor": 0.0, "fair": 0.5, "rich": 0.75})
    fine_least: float = 0.3
    fine_most: Mapping[Grazing, float] = field(default_factory=lambda: {"poor": 1.0, "fair": 5.0, "rich": 5.0})
    celsius: float = 24.0
    q10: float = 2.0


@dataclass(frozen=True)
class Room:
    """Everything the room file says, checked and complete."""

    name: str
    zone: ZoneInfo
    units: Units
    keepers: tuple[Keeper, ...]
    rounds: tuple[RoundTime, ...]
    racks: tuple[Rack, ...]
    tanks: Mapping[str, Tank]
    feeds: Mapping[str, Feed]
    appetite: Appetite = field(default_factory=Appetite)
    tools: Tools = field(default_factory=Tools)
    quarantine: QuarantineRules = field(default_factory=QuarantineRules)
    clocks: Mapping[str, ClockRules] = field(default_factory=lambda: DEFAULT_CLOCKS)
    ledger: str | None = None
    """Where the ledger is, as the file says it; None for the file's neighbour."""
    chores: tuple[Chore, ...] = ()
    water: WaterRules = field(default_factory=WaterRules)
    waters: Mapping[str, SourceWater] = field(default_factory=dict)
    salts: Mapping[str, Salt] = field(default_factory=dict)

    @cached_property
    def walk(self) -> tuple[str, ...]:
        """Tank ids in walking order: racks as written, quarantine last so that nothing is carried out of it."""
        order = [tank for rack in self.racks for tank in rack.tanks]
        return tuple(sorted(order, key=lambda tank: self.tanks[tank].quarantine))

    @cached_property
    def needs(self) -> dict[str, Any]:
        """The clocks of each tank, filled tank by tank when first asked for (`needs.clocks_of`)."""
        return {}

    @cached_property
    def chores_at(self) -> dict[ChorePlace, tuple[Chore, ...]]:
        """The chores of each place that has any, in the order of the file."""
        places = dict.fromkeys(place for chore in self.chores for place in chore.places)
        return {place: tuple(chore for chore in self.chores if place in chore.places) for place in places}

    @cached_property
    def chore_days(self) -> dict[str, Any]:
        """How chores are spread over days, worked out when first asked for (`schedules.chores.spreading`)."""
        return {}

    def only(self, tank: str) -> Room:
        """The same room with a single tank in its walk, for what is worked out tank by tank."""
        return replace(self, racks=(Rack(self.tanks[tank].rack, self.tanks[tank].rack, (tank,)),))

    def day(self, now: datetime) -> date:
        """The room's own date at an instant (`now` aware); a round that crosses midnight keeps the date it began on."""
        return feeding_day(now, self.zone, [walk.at for walk in self.rounds])
