"""A tank's daily ration of a feed, from two sides: the smaller one wins."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

from schedules.kinds import Grazing, Stage
from schedules.room import Feed, Tank

BODY_MASS_MG: Final[dict[Stage, float]] = {
    "shrimplet": 1.0,
    "juvenile": 10.0,
    "adult": 37.0,
    "filter_feeder": 400.0,
}
"""Fresh body mass by stage in mg. Adult: between males 30.5 and females 44 mg (quoted at second hand); the others are
common practice, no source."""
BODY_PERCENT: Final = 4.0
"""Percent of body mass a day. Common practice, no source: prawn broodstock get 1 to 3 % (Mississippi State University
extension), a laboratory gave Neocaridina 7 % (Sganga and Lopez Greco 2019, basis not stated)."""
GRAZED_PART: Final[dict[Grazing, float]] = {"poor": 0.0, "fair": 0.25, "rich": 0.5}
"""The part of the need that grazing covers. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Ration:
    """A full feeding day of one feed in one tank, mg: what the label says, what the animals need, and the smaller."""

    label_mg: float
    animals_mg: float

    @property
    def mg(self) -> float:
        """The ration: the smaller side."""
        return min(self.label_mg, self.animals_mg)


def daily_ration(tank: Tank, feed: Feed, day: date) -> Ration:
    """What a full feeding day of a feed comes to in a tank on a day, mg of dry feed."""
    need = sum(here.count * BODY_MASS_MG[here.stage] * BODY_PERCENT / 100 for here in tank.animals if here.on(day))
    return Ration(feed.label_mg_per_litre * tank.litres, need * (1 - GRAZED_PART[tank.grazing]))
