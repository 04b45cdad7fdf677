"""A tank's daily ration of a feed, from two sides: the smaller one wins, and both can be shown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from schedules.amounts.ration.need import need_steps, needed_mg
from schedules.amounts.ration.steps import Step
from schedules.room import Appetite, Feed, Room, Tank


@dataclass(frozen=True, slots=True)
class Ration:
    """A full feeding day of one feed in one tank, mg: what the label says, what the animals need, and the smaller.

    `set_by_keeper` tells that the animals' side is the keeper's own number rather than worked out.
    """

    label_mg: float
    animals_mg: float
    set_by_keeper: bool = False

    @property
    def mg(self) -> float:
        """The ration: the smaller side."""
        return min(self.label_mg, self.animals_mg)


def daily_ration(tank: Tank, feed: Feed, day: date, room: Room | None = None) -> Ration:
    """What a full feeding day of a feed comes to in a tank on a day, mg of dry feed.

    `room` gives what its animals eat; without it the defaults hold.
    """
    label = feed.label_mg_per_litre * tank.litres
    if tank.ration_mg is not None:
        return Ration(label, tank.ration_mg, set_by_keeper=True)
    return Ration(label, needed_mg(tank, feed, day, _appetite(room)))


def share_of(tank: Tank, feed: Feed, mg: float, day: date, room: Room | None = None) -> float:
    """The part of a day's ration that a mass of a feed takes up; 1 for anything at all where the ration is nothing."""
    full = daily_ration(tank, feed, day, room).mg
    if full > 0:
        return mg / full
    return 1.0 if mg > 0 else 0.0


def ration_steps(tank: Tank, feed: Feed, day: date, room: Room | None = None) -> Iterator[Step]:
    """The lines of a daily ration: the label's side, the animals' side, and which of the two is smaller."""
    ration = daily_ration(tank, feed, day, room)
    yield Step("the label gives per litre", feed.label_mg_per_litre, "mg/L", "the label, or common practice by kind")
    yield Step(f"the label gives for {tank.litres:.3g} L", ration.label_mg, "mg", "the lines above")
    if ration.set_by_keeper:
        yield Step("the animals need, as set by the keeper", ration.animals_mg, "mg", "the room file")
    else:
        yield from need_steps(tank, feed, day, _appetite(room))
    side = "the label's side" if ration.label_mg < ration.animals_mg else "the animals' side"
    yield Step(f"daily ration: {side}, the smaller", ration.mg, "mg", "the lines above")


def _appetite(room: Room | None) -> Appetite:
    return Appetite() if room is None else room.appetite
