"""What speaks against writing down what was seen of the animals, until the keeper insists."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from schedules.history.life import Life
from schedules.history.life.ages import could_be
from schedules.ledger import Saw, Sighting
from schedules.ledger.entries.animals.sighting import LEAVING
from schedules.room import Presence, Room, Tank
from schedules.room.kinds import Stage


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why a sighting is questioned.

    - `future`: its day lies ahead.
    - `more_than_there`: more leave than are known to be there (`there`).
    - `quarantine`: animals are moved out of quarantine; it is over on `until`, None where that is not known.
      `arrived` is the day on which the last animals came in.
    """

    kind: Literal["future", "more_than_there", "quarantine"]
    sighting: Sighting
    day: date
    there: int = 0
    arrived: date | None = None
    until: date | None = None


@dataclass(frozen=True, slots=True)
class Isolation:
    """A tank's quarantine as of a day: so many `days` from `arrived` to `until`, None for what is not known."""

    days: int | None
    arrived: date | None
    until: date | None
    over: bool


def isolation_of(tank: Tank, life: Life, day: date) -> Isolation:
    """How long a tank's quarantine lasts, counted from the last animals that came in up to a day."""
    days, arrived = tank.quarantine_days, last_arrival(tank, life, day)
    until = None if days is None or arrived is None else arrived + timedelta(days=days)
    return Isolation(days, arrived, until, until is not None and day >= until)


def doubt_about(room: Room, life: Life, today: date, day: date, what: Sighting) -> Doubt | None:
    """The first thing that speaks against a sighting of a day. `room` holds the animals as they were seen."""
    if day > today:
        return Doubt("future", what, day)
    if what.saw == "moved" and room.tanks[what.tank].quarantine:
        isolation = isolation_of(room.tanks[what.tank], life, day)
        if not isolation.over:
            return Doubt("quarantine", what, day, arrived=isolation.arrived, until=isolation.until)
    if what.saw in LEAVING:
        there = heads_that_could_be(room.tanks[what.tank], what.stage, day)
        if what.number.range[0] > there:
            return Doubt("more_than_there", what, day, there=there)
    return None


def stage_meant(tank: Tank, saw: Saw, day: date) -> Stage:
    """The stage meant where none is named: adults, or the only one that is there."""
    if saw == "hatch":
        return "shrimplet"
    there = {here.stage for here in tank.animals if here.on(day) and here.count and not here.expected}
    return next(iter(there)) if len(there) == 1 and saw not in ("berried", "eyed", "added") else "adult"


def heads_that_could_be(tank: Tank, stage: Stage, day: date) -> int:
    """How many animals of a tank are of a stage on a day, or could be by their age."""
    here = (animals for animals in tank.animals if animals.on(day) and not animals.expected)
    return sum(animals.count for animals in here if animals.stage == stage or _could_be(animals, stage, day))


def _could_be(animals: Presence, stage: Stage, day: date) -> bool:
    return animals.hatched is not None and could_be(stage, (day - animals.hatched).days)


def last_arrival(tank: Tank, life: Life, day: date) -> date | None:
    """The last day up to a day on which animals came into a tank from elsewhere, as far as it is known."""
    known = [here.first for here in tank.animals if here.first and not here.goes_on and here.hatched is None]
    known += [life.arrived[tank.id]] if tank.id in life.arrived else []
    return max((each for each in known if each <= day), default=None)
