"""What a tank's animals need in a day at each table: heads by body mass, less what film and moss leave to be fed.

Total need of dry feed is 0.19 W^0.60 mg a head and day (W mg, 0.4 to 250), × or ÷ 2. No ration was found published for
these animals as kept in a room; the curve agrees with what was given to post-larvae (10 to 25 % of body mass a day), to
Neocaridina in a laboratory (7 %, Sganga and Lopez Greco 2019, basis not stated) and to prawn broodstock (1 to 3 %,
Mississippi State University extension), and with oxygen use plus growth. Grazing is taken off once, here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Final

from schedules.amounts.ration.growth import FAN_SPREAD, SPREAD, Length, body_mg, fan_body_mg, length_of
from schedules.amounts.ration.steps import Step
from schedules.room import Appetite, Presence, Tank
from schedules.room.kinds import Stage, Table

NEED_AT_ONE_MG: Final = 0.19
NEED_EXPONENT: Final = 0.60
LIGHTEST_MG, HEAVIEST_MG = 0.4, 250.0
NEED_TIMES_OFF: Final = 2.0
FAN_PERCENT: Final = 1.0
"""Percent of body mass a day as suspended fine feed. A proposal between 0.3 and 3: no ration was found published."""
FAN_TIMES_OFF: Final = 3.0
GRAZED_TIMES_OFF: Final = 2.0
COLDEST: Final = 16.0
WARMEST: Final = 26.0
"""Beyond these °C the need is not scaled further: warmer water also holds less oxygen and makes ammonia worse."""
EATERS: Final[dict[Table, frozenset[Stage]]] = {
    "fine": frozenset(("shrimplet",)),
    "ground": frozenset(("juvenile", "adult")),
    "fan": frozenset(("filter_feeder",)),
}
"""Whose heads a table's ration is worked out from. Others take from it as well."""


def warmth(tank: Tank, appetite: Appetite) -> float:
    """How many times the need at the reference temperature is eaten at the tank's own; 1 where it was never measured.

    q10 ** ((T - reference) / 10). Oxygen use of Exopalaemon modestus had a Q10 of 2.10 from 12 to 30 °C (Liu and others
    2010); appetite was not measured there.
    """
    if tank.water.temperature is None:
        return 1.0
    return float(appetite.q10 ** ((min(max(tank.water.temperature, COLDEST), WARMEST) - appetite.celsius) / 10))


def fed_part(tank: Tank, table: Table, appetite: Appetite) -> float:
    """The part of the need that has to be fed, 0 to 1. Fan feeders catch nothing by grazing."""
    return 1.0 if table == "fan" else 1 - appetite.grazed[tank.grazing]


def need_each(mass_mg: float) -> float:
    """What one slender shrimp of a body mass (mg) needs of dry feed in a day, mg: 0.19 W^0.60."""
    return float(NEED_AT_ONE_MG * min(max(mass_mg, LIGHTEST_MG), HEAVIEST_MG) ** NEED_EXPONENT)


def head_mass(animals: Presence, length: Length, appetite: Appetite) -> float:
    """Body mass of one animal, mg: the keeper's own figure for the stage, else by length."""
    own = appetite.body_mg.get(animals.stage)
    if own is not None and length.basis == "stage":
        return own
    return fan_body_mg(length.mm) if animals.stage == "filter_feeder" else body_mg(length.mm)


def head_need(stage: Stage, mass_mg: float, appetite: Appetite) -> float:
    """What one animal needs in a day, mg: the keeper's own percent of body mass for the stage, else as published."""
    percent = appetite.body_percent.get(stage)
    if percent is None and stage == "filter_feeder":
        percent = FAN_PERCENT
    return need_each(mass_mg) if percent is None else mass_mg * percent / 100


def eaters(tank: Tank, table: Table, day: date) -> Iterator[Presence]:
    """The animals in a tank on a day whose heads count at a table."""
    return (here for here in tank.animals if here.on(day) and here.count > 0 and here.stage in EATERS[table])


def needed_mg(tank: Tank, table: Table, day: date, appetite: Appetite) -> float:
    """What the animals that eat at a table have to be fed in a day, mg of dry feed."""
    total = sum(here.count * _each(tank, here, day, appetite) for here in eaters(tank, table, day))
    return total * warmth(tank, appetite) * fed_part(tank, table, appetite)


def _each(tank: Tank, here: Presence, day: date, appetite: Appetite) -> float:
    length = length_of(here, day, tank.water.temperature)
    return head_need(here.stage, head_mass(here, length, appetite), appetite)


def need_steps(tank: Tank, table: Table, day: date, appetite: Appetite) -> Iterator[Step]:
    """The lines of the animals' side, ending in what has to be fed."""
    here = tuple(eaters(tank, table, day))
    for animals in here:
        yield from _head_steps(tank, animals, day, appetite)
    if here:
        yield from _tank_steps(tank, table, appetite)
    yield Step("needed", needed_mg(tank, table, day, appetite), "mg", "lines")


def _head_steps(tank: Tank, here: Presence, day: date, appetite: Appetite) -> Iterator[Step]:
    length = length_of(here, day, tank.water.temperature)
    mass = head_mass(here, length, appetite)
    said: dict[str, str | int | float] = {"count": here.count, "stage": here.stage}
    fan = here.stage == "filter_feeder"
    if length.basis == "stage" and here.stage in appetite.body_mg:
        yield Step("mass", mass, "mg", "room_file", values=said)
    else:
        yield Step("length", length.mm, "mm", f"length_{length.basis}", values=said)
        yield Step(
            "mass", mass, "mg", "atya" if fan else "allometry", FAN_SPREAD if fan else SPREAD[length.basis], said
        )
    each = head_need(here.stage, mass, appetite)
    own = here.stage in appetite.body_percent
    source, times = ("fan_ration", FAN_TIMES_OFF) if fan else ("need", NEED_TIMES_OFF)
    yield Step("need_each", each, "mg", "room_file" if own else source, 0.0 if own else times, said)


def _tank_steps(tank: Tank, table: Table, appetite: Appetite) -> Iterator[Step]:
    usual = Appetite()
    if tank.water.temperature is None:
        yield Step("temperature_unknown", 1.0, "", "common")
    else:
        own = appetite.q10 != usual.q10
        said = {"celsius": tank.water.temperature}
        yield Step("warmth", warmth(tank, appetite), "", "room_file" if own else "q10", 0.0 if own else 1.2, said)
    if table == "fan":
        return
    own = appetite.grazed[tank.grazing] != usual.grazed[tank.grazing]
    yield Step(
        "fed_part",
        fed_part(tank, table, appetite),
        "",
        "room_file" if own else "grazing",
        0.0 if own else GRAZED_TIMES_OFF,
        {"grazing": tank.grazing},
    )


def heads(tank: Tank, stages: Iterable[Stage], day: date) -> int:
    """Head count of some stages on a day."""
    return sum(tank.count(stage, day) for stage in stages)
