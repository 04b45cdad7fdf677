"""An invented room of tanks with hidden appetites, and its forgetful keepers. Every number here is made up.

The program under test sees what a keeper would see: head counts written down once a month with an error, a temperature
measured once, and what was reported as left over. What the animals would really eat it never sees.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import log, pi, sin
from random import Random

from schedules.amounts.ration.need import needed_mg
from schedules.room import Appetite, Feed, FeedRules, Measure, Presence, Tank, Water
from schedules.room.kinds import KIND_DEFAULTS, Grazing

START = date(2026, 1, 5)
COUNTED_EVERY = 30
USUAL = KIND_DEFAULTS["staple"]
CRUMB = Feed(
    "crumb",
    "Crumb",
    "staple",
    frozenset(("juvenile", "adult")),
    None,
    "morning",
    Measure("crumb", 4.0, 0.5),
    USUAL.protein,
    3.0,
    None,
    FeedRules(1, 3, 7.0, 1.0, 0.3, "placed", 4.0, even_on_days_off=False),
)
"""A solid feed in crumbs of 4 mg that break in two, given alone every day, so that its share is the whole ration."""


@dataclass(frozen=True)
class Setting:
    """What is assumed of the room: tanks, days, the middle and spread of true appetite ÷ ration, how keepers are."""

    tanks: int = 120
    days: int = 120
    appetite: float = 0.75
    spread: float = 0.25
    looks: float = 0.8
    forgets: float = 0.1
    doubles: float = 0.02
    seen_from: float = 0.1


@dataclass(frozen=True)
class HiddenTank:
    """A tank as the room file has it, and its true appetite on each day, mg."""

    tank: Tank
    appetite: tuple[float, ...]


def make_tanks(setting: Setting, seed: int) -> list[HiddenTank]:
    """The room's tanks, drawn from a seed."""
    chance = Random(f"tanks {seed}")
    return [_tank(f"t{number}", setting, chance) for number in range(setting.tanks)]


def _tank(name: str, setting: Setting, chance: Random) -> HiddenTank:
    litres = chance.uniform(20, 60)
    adults = round(litres * chance.uniform(0.8, 2.0))
    grazing: Grazing = chance.choice(("poor", "fair", "rich"))
    young = _young(setting.days, chance)
    grown = [adults + count for count in _grown_up(young)]
    own = chance.lognormvariate(log(setting.appetite), setting.spread)
    season = chance.uniform(-pi, pi)
    said = tuple(_counted(grown, young, setting.days, chance))
    tank = Tank(
        name, name, "rack", "1", litres, said, "rippled", grazing, None, False, Water(24.0), {CRUMB.id: CRUMB.rules}
    )
    appetite = []
    for day in range(setting.days):
        truly = replace(
            tank,
            animals=(Presence("adult", grown[day]), Presence("juvenile", young[day])),
            water=Water(24.0 + 1.5 * sin(2 * pi * day / 120 + season)),
        )
        appetite.append(needed_mg(truly, CRUMB, START, Appetite()) * own * chance.uniform(0.95, 1.05))
    return HiddenTank(tank, tuple(appetite))


def _young(days: int, chance: Random) -> list[int]:
    """Juveniles on each day: broods arrive and thin out or grow up."""
    counts, here = [], chance.randint(0, 40)
    for _ in range(days):
        if chance.random() < 0.03:
            here += chance.randint(21, 51)
        here -= sum(chance.random() < 0.015 for _ in range(here))
        counts.append(here)
    return counts


def _grown_up(young: list[int]) -> list[int]:
    """Adults that the juveniles have added by each day."""
    added, total = [], 0.0
    for count in young:
        total += 0.004 * count
        added.append(int(total))
    return added


def _counted(grown: list[int], young: list[int], days: int, chance: Random) -> list[Presence]:
    """Head counts as a keeper writes them down: once a month, off by a sixth either way."""
    said = []
    for day in range(0, days, COUNTED_EVERY):
        first = START + timedelta(days=day)
        last = first + timedelta(days=COUNTED_EVERY - 1)
        off = chance.lognormvariate(0, 0.15)
        said.append(Presence("adult", max(1, round(grown[day] * off)), first=first, last=last))
        said.append(Presence("juvenile", round(young[day] * off), first=first, last=last))
    return said
