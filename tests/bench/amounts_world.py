"""An invented room of tanks with broods, hidden appetites and forgetful keepers. Every number here is made up.

The program under test sees what a keeper would see: litres, how rich the grazing looks, adults counted with an error,
broods with their hatch day and about how many they are. What the animals weigh, need and find it never sees.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import exp
from random import Random

from schedules.amounts.ration.growth import body_mg
from schedules.amounts.ration.need import need_each
from schedules.history.life.curve import CEILING_MM, HATCH_MM
from schedules.room import Feed, Measure, Presence, Tank
from schedules.room.kinds import Grazing
from tests.amounts.rooms import make_feed, make_room, make_tank

START = date(2026, 1, 5)
DUST = make_feed("dust", "powder", known=True, label_mg_per_litre=3.0, protein=0.42, measure=Measure("spoon", 60, 0.25))
FILM = make_feed("film", "biofilm", known=True, label_mg_per_litre=2.5, protein=0.3, measure=Measure("spoon", 60, 0.25))
WAFER = make_feed("wafer", "staple", label_mg_per_litre=2.5, draws=True, measure=Measure("pellet", 10.0, 0.5))
GRUB = make_feed("grub", "protein", label_mg_per_litre=2.5, draws=True, measure=Measure("pellet", 10.0, 0.5))
FEEDS: tuple[Feed, ...] = (DUST, FILM, WAFER, GRUB)
ROOM = make_room(FEEDS)
WEEK: tuple[dict[str, float], ...] = (
    {"dust": 1.0, "wafer": 1.0},
    {"film": 0.5, "dust": 0.5, "wafer": 0.4, "grub": 0.6},
    {"dust": 1.0, "wafer": 1.0},
    {"dust": 1.0, "wafer": 1.0},
    {"film": 0.5, "dust": 0.5, "wafer": 1.0},
    {"dust": 1.0},
    {},
)
"""The same plan for every way of feeding: parts of the ration by feed, Monday first, one day without anything."""
SHRIMPLET_DAYS = 60
TRUE_FED: dict[Grazing, float] = {"poor": 0.9, "fair": 0.5, "rich": 0.25}


@dataclass(frozen=True)
class Setting:
    """What is assumed: tanks, days, the middle and spread of true need ÷ the program's, how keepers are.

    `found` is the part of fine feed that the young find before it is lost on the ground.
    """

    tanks: int = 60
    days: int = 120
    need: float = 0.9
    spread: float = 0.35
    looks: float = 0.8
    forgets: float = 0.1
    doubles: float = 0.02
    found: float = 0.7
    counting: float = 0.3


@dataclass(frozen=True)
class Brood:
    """Young that hatched on a day: how many there truly are, and how fast they grow when they find enough."""

    hatched: int
    heads: int
    growth: float


@dataclass(frozen=True)
class HiddenTank:
    """A tank as the room file has it, and what is true of it."""

    tank: Tank
    adults: int
    adult_mm: float
    broods: tuple[Brood, ...]
    own_need: float
    fed_part: float


def make_tanks(setting: Setting, seed: int) -> list[HiddenTank]:
    """The room's tanks, drawn from a seed."""
    chance = Random(f"tanks {seed}")
    return [_tank(f"t{number}", setting, chance) for number in range(setting.tanks)]


def _tank(name: str, setting: Setting, chance: Random) -> HiddenTank:
    litres = chance.uniform(15, 60)
    grazing: Grazing = chance.choice(("poor", "fair", "rich"))
    adults = round(litres * chance.uniform(0.3, 1.5))
    broods = tuple(
        Brood(day, chance.randint(15, 50), chance.uniform(0.0114, 0.0208))
        for day in range(setting.days)
        if chance.random() < 0.04 or day == 0
    )
    said = [Presence("adult", max(1, round(adults * chance.lognormvariate(0, setting.counting))))]
    for brood in broods:
        hatched, about = (
            START + timedelta(days=brood.hatched),
            round(brood.heads * chance.lognormvariate(0, setting.counting)),
        )
        grown = hatched + timedelta(days=SHRIMPLET_DAYS)
        said.append(Presence("shrimplet", about, first=hatched, last=grown - timedelta(days=1), hatched=hatched))
        said.append(Presence("juvenile", about, first=grown, hatched=hatched))
    tank = make_tank(name, FEEDS, litres=litres, grazing=grazing, animals=tuple(said))
    own = setting.need * chance.lognormvariate(0, setting.spread)
    fed = min(1.0, TRUE_FED[grazing] * chance.lognormvariate(0, 0.3))
    return HiddenTank(tank, adults, chance.uniform(18, 23), broods, own, fed)


class Life:
    """The true lengths of a tank's broods as they grow by what they find, and what the tank's animals want."""

    def __init__(self, hidden: HiddenTank) -> None:
        self.hidden = hidden
        self.mm = [HATCH_MM] * len(hidden.broods)

    def want(self, day: int) -> tuple[float, float]:
        """What the young and the others would eat of what is fed, mg: fine and ground."""
        fine = ground = 0.0
        for brood, mm in zip(self.hidden.broods, self.mm, strict=True):
            each = brood.heads * need_each(body_mg(mm)) * (day >= brood.hatched)
            fine, ground = (fine + each, ground) if day - brood.hatched < SHRIMPLET_DAYS else (fine, ground + each)
        ground += self.hidden.adults * need_each(body_mg(self.hidden.adult_mm))
        share = self.hidden.own_need * self.hidden.fed_part
        return fine * share, ground * share

    def grow(self, day: int, found: float) -> None:
        """A day of growth of all young; `found` is what the shrimplets found of what had to be fed, 0 to 1."""
        for number, brood in enumerate(self.hidden.broods):
            if day < brood.hatched:
                continue
            shrimplet = day - brood.hatched < SHRIMPLET_DAYS
            part = (1 - self.hidden.fed_part) + self.hidden.fed_part * found if shrimplet else 1.0
            self.mm[number] += (CEILING_MM - self.mm[number]) * (1 - exp(-brood.growth)) * part


def full_length(brood: Brood, days: int) -> float:
    """How long a brood is after some days when it always finds enough, mm."""
    return CEILING_MM - (CEILING_MM - HATCH_MM) * exp(-brood.growth * days)
