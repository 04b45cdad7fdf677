"""A tank's ration of a day at one table, from its sides: what is needed, the label, the floor and ceiling of the water.

Fine feed is dosed by water and young: what the shrimplets need, between a floor below which particles are too few to be
met with, and ceilings on what the water may take. Ground and fan feed are dosed by heads, up to the label.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from math import inf
from typing import Final

from schedules.amounts.ration.need import need_steps, needed_mg
from schedules.amounts.ration.steps import Step
from schedules.room import Appetite, Feed, Room, Tank
from schedules.room.kinds import STAGES, Table

FULL_DAY: Final = 1.0
"""The parts of a tank's servings at one table on one day add up to at most this."""
TOLERANCE: Final = 1e-9
"""Room for the rounding of sums such as 0.1 + 0.2 + 0.7."""


@dataclass(frozen=True, slots=True)
class Ration:
    """A full feeding day of one feed in one tank, mg of dry feed.

    `need_mg` is what the table's animals have to be fed, or the keeper's own number (`set_by_keeper`); `floor_mg` and
    `ceiling_mg` are the water's least and most; `label_mg` the label's amount for the volume.
    """

    table: Table
    need_mg: float
    label_mg: float
    floor_mg: float = 0.0
    ceiling_mg: float = inf
    set_by_keeper: bool = False

    @property
    def most_mg(self) -> float:
        """What must not be exceeded: label or ceiling, whichever is lower."""
        return min(self.label_mg, self.ceiling_mg)

    @property
    def mg(self) -> float:
        """The ration."""
        return min(max(self.need_mg, self.floor_mg), self.most_mg)

    @property
    def side(self) -> str:
        """The code of the side that settled it: need, floor, ceiling or label."""
        wanted = max(self.need_mg, self.floor_mg)
        if wanted <= self.most_mg:
            return "need" if self.need_mg >= self.floor_mg else "floor"
        return "label" if self.label_mg <= self.ceiling_mg else "ceiling"


def daily_ration(tank: Tank, feed: Feed, day: date, room: Room | None = None) -> Ration:
    """What a full feeding day of a feed comes to in a tank on a day, mg of dry feed.

    `room` gives what its animals eat; without it the defaults hold. The keeper's own ration of a tank stands for its
    main table (`main_table`). An extra has no ration.
    """
    appetite = Appetite() if room is None else room.appetite
    label = feed.label_mg_per_litre * tank.litres
    if feed.extra:
        return Ration(feed.table, 0.0, label)
    own = tank.ration_mg if feed.table == main_table(tank, day) else None
    need = needed_mg(tank, feed.table, day, appetite) if own is None else own
    if feed.table == "ground":
        return Ration("ground", need, label, set_by_keeper=own is not None)
    ceiling = appetite.fine_most[tank.grazing] * tank.litres
    least = 0.0 if feed.table == "fan" or own is not None or not _anybody(tank, day) else appetite.fine_least
    return Ration(feed.table, need, label, least * tank.litres, ceiling, own is not None)


def main_table(tank: Tank, day: date) -> Table:
    """The table that the keeper's own ration of a tank is about: ground, else fine, else fan, by who is there."""
    here = tank.stages(day)
    if here & {"juvenile", "adult"} or not here:
        return "ground"
    return "fine" if "shrimplet" in here else "fan"


def share_of(tank: Tank, feed: Feed, mg: float, day: date, room: Room | None = None) -> float:
    """The part of its table's ration that a mass of a feed takes up; 1 for anything where there is no ration.

    An extra takes nothing.
    """
    if feed.extra or mg <= 0:
        return 0.0
    full = daily_ration(tank, feed, day, room).mg
    return mg / full if full > 0 else 1.0


def ration_steps(tank: Tank, feed: Feed, day: date, room: Room | None = None) -> Iterator[Step]:
    """The lines of a daily ration: what is needed, floor, ceiling and label, and which of them settles it."""
    ration = daily_ration(tank, feed, day, room)
    appetite = Appetite() if room is None else room.appetite
    if feed.extra:
        return
    if ration.set_by_keeper:
        yield Step("needed_by_keeper", ration.need_mg, "mg", "room_file")
    else:
        yield from need_steps(tank, feed.table, day, appetite)
    litres = {"litres": tank.litres}
    if ration.floor_mg > 0:
        yield Step("floor", ration.floor_mg, "mg", "common", 2.0, litres | {"per_litre": appetite.fine_least})
    if ration.ceiling_mg < inf:
        per_litre = appetite.fine_most[tank.grazing]
        yield Step("ceiling", ration.ceiling_mg, "mg", "ceiling", 0.0, litres | {"per_litre": per_litre})
    yield Step("label", ration.label_mg, "mg", "label", 0.0, litres | {"per_litre": feed.label_mg_per_litre})
    yield Step("ration", ration.mg, "mg", "lines", values={"side": ration.side, "table": feed.table})


def _anybody(tank: Tank, day: date) -> bool:
    return bool(tank.stages(day) & set(STAGES) - {"filter_feeder"})
