"""A bottle as it is made: what is weighed, what water is added, and what each tank gets of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from schedules.room import Vessel


@dataclass(frozen=True, slots=True)
class Dose:
    """What one tank gets of a bottle: `times` fills of `ml` from `vessel`, `mg` of dry feed in all.

    `error` is the relative error of the dose (root sum of squares of scale, jug, syringe, mark and dose class), None
    where the feed was measured by the spoon, of which no accuracy is known. `exact` tells that what is known of it
    keeps the limit.
    """

    tank: str
    vessel: Vessel
    ml: float
    times: int
    mg: float
    error: float | None
    exact: bool


@dataclass(frozen=True, slots=True)
class Bottle:
    """One feed mixed for a round: `mass_mg` of dry feed filled up with tank water to `water_ml`.

    `measures` says how many of the feed's own measures that is where it is not weighed, else None. `weighed_on` is the
    day on which its dry feed was weighed, `made_on` the day on which water is added. It is good for `keeps_hours`, None
    for the same day. What is left over is thrown away.
    """

    feed: str
    mass_mg: float
    measures: float | None
    water_ml: float
    doses: tuple[Dose, ...]
    weighed_on: date
    made_on: date
    keeps_hours: float | None = None

    @property
    def mg_per_ml(self) -> float:
        """How strong it is, as its label says."""
        return self.mass_mg / self.water_ml

    @property
    def exceptions(self) -> tuple[Dose, ...]:
        """The doses that do not keep the limit on their error."""
        return tuple(dose for dose in self.doses if not dose.exact)


@dataclass(frozen=True, slots=True)
class Cup:
    """Dry feed weighed ahead for one morning: its label says feed, day, mass, and the water that is added then."""

    feed: str
    day: date
    mass_mg: float
    measures: float | None
    water_ml: float


@dataclass(frozen=True, slots=True)
class Weighing:
    """The cups of one feed that are weighed on one day, for that morning and the coming ones, at one strength."""

    feed: str
    day: date
    mg_per_ml: float
    cups: tuple[Cup, ...]

    def cup(self, day: date) -> Cup | None:
        """The cup for a day, None where there is none."""
        return next((cup for cup in self.cups if cup.day == day), None)
