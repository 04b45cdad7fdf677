"""What a tank's animals eat in a day: heads, body mass, percent of body mass, temperature, less what grazing gives.

No ration was found published for these animals as kept in a room, so the defaults (`schedules.room.Appetite`) are low
and say where they lean on something: an adult weighs between males of 30.5 and females of 44 mg (quoted at second
hand); prawn broodstock get 1 to 3 % of body mass a day (Mississippi State University extension), a laboratory gave
Neocaridina 7 % (Sganga and Lopez Greco 2019, basis not stated). Shrimplets and juveniles are scaled from an adult of
25 mm by the cube of their length (6 and 13 mm), as no length-weight equation for Neocaridina was found. Everything else
is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from schedules.amounts.ration.steps import COMMON, Step
from schedules.room import Appetite, Feed, Tank
from schedules.room.kinds import STAGES, Stage

STAGE_PLURAL: Final[dict[Stage, str]] = {
    "shrimplet": "shrimplets",
    "juvenile": "juveniles",
    "adult": "adults",
    "filter_feeder": "filter feeders",
}
COLDEST: Final = 16.0
WARMEST: Final = 26.0
"""Beyond these °C the need is not scaled further: warmer water also holds less oxygen and makes ammonia worse."""
_MASS: Final[dict[Stage, tuple[str, str]]] = {
    "shrimplet": ("scaled from an adult by length cubed", "a factor of 3 either way"),
    "juvenile": ("scaled from an adult by length cubed", "a factor of 2 either way"),
    "adult": ("males 30.5, females 44 mg, quoted at second hand", "± 20 %"),
    "filter_feeder": (COMMON, "a factor of 2 either way"),
}
_PERCENT: Final[dict[Stage, tuple[str, str]]] = {
    "shrimplet": ("7 % in a laboratory, Sganga and Lopez Greco 2019, basis not stated", "a factor of 2 either way"),
    "juvenile": ("between prawn broodstock (1 to 3 %) and a laboratory's 7 %", "a factor of 2 either way"),
    "adult": ("between prawn broodstock (1 to 3 %) and a laboratory's 7 %", "a factor of 2 either way"),
    "filter_feeder": ("no ration for filter feeders was found; " + COMMON, "a factor of 2 either way"),
}


def audience(feed: Feed) -> frozenset[Stage]:
    """The stages whose need a feed is measured by: filter feeders and all others eat from different tables."""
    if feed.stages == {"filter_feeder"}:
        return feed.stages
    return frozenset(STAGES) if "filter_feeder" in feed.stages else frozenset(STAGES) - {"filter_feeder"}


def warmth(tank: Tank, appetite: Appetite) -> float:
    """How many times the need at the reference temperature is eaten at the tank's own; 1 where it was never measured.

    A Q10 rule, q10 ** ((T - reference) / 10): the textbook rule for cold-blooded animals, the default of 2 from memory.
    """
    if tank.water.temperature is None:
        return 1.0
    return float(appetite.q10 ** ((min(max(tank.water.temperature, COLDEST), WARMEST) - appetite.celsius) / 10))


def needed_mg(tank: Tank, feed: Feed, day: date, appetite: Appetite) -> float:
    """What the animals that a feed is measured by need in a day, mg of dry feed."""
    eaten = sum(
        tank.count(stage, day) * appetite.body_mg[stage] * appetite.body_percent[stage] / 100
        for stage in STAGES
        if stage in audience(feed)
    )
    return eaten * warmth(tank, appetite) * (1 - appetite.grazed[tank.grazing])


def need_steps(tank: Tank, feed: Feed, day: date, appetite: Appetite) -> Iterator[Step]:
    """The lines of the animals' side, ending in what they need."""
    usual = Appetite()
    for stage in STAGES:
        count = tank.count(stage, day)
        if stage not in audience(feed) or count == 0:
            continue
        mass, percent = appetite.body_mg[stage], appetite.body_percent[stage]
        yield Step(
            f"{count} {STAGE_PLURAL[stage]}, each", mass, "mg", *_origin(mass, usual.body_mg[stage], _MASS[stage])
        )
        yield Step(
            f"{STAGE_PLURAL[stage]} eat of their body mass a day",
            percent,
            "%",
            *_origin(percent, usual.body_percent[stage], _PERCENT[stage]),
        )
    if tank.water.temperature is None:
        yield Step("temperature never measured, taken as usual: times", 1.0, "", COMMON)
    else:
        yield Step(
            f"at {tank.water.temperature:.1f} °C: times",
            warmth(tank, appetite),
            "",
            *_origin(appetite.q10, usual.q10, ("Q10 of 2, a textbook rule, from memory", "± 20 %")),
        )
    grazed = appetite.grazed[tank.grazing]
    yield Step(
        f"less what {tank.grazing} grazing gives",
        100 * grazed,
        "%",
        *_origin(grazed, usual.grazed[tank.grazing], (COMMON, "a factor of 2 either way")),
    )
    yield Step("the animals need", needed_mg(tank, feed, day, appetite), "mg", "the lines above")


def _origin(value: float, usual: float, known: tuple[str, str]) -> tuple[str, str]:
    """Source and uncertainty of a number: the keeper's own where it is not the default."""
    return known if value == usual else ("the room file", "")
