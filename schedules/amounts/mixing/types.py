"""A batch as it is mixed: what is weighed, what water is added, and what each tank gets of it."""

from __future__ import annotations

from dataclasses import dataclass

from schedules.room import Vessel


@dataclass(frozen=True, slots=True)
class Dose:
    """What one tank gets of a batch: `times` fills of `ml` from `vessel`, `mg` of dry feed in all.

    `lost_mg` is what it is short of the serving due, since a dose sits on a mark. `error` is the relative error of the
    dose (root sum of squares), None where the feed was measured by the spoon, of which no accuracy is known.
    """

    tank: str
    vessel: Vessel
    ml: float
    times: int
    mg: float
    lost_mg: float
    error: float | None

    @property
    def upper_half(self) -> bool:
        """Whether the dose fills at least half of its vessel, where a syringe is at its best."""
        return self.ml >= self.vessel.ml / 2


@dataclass(frozen=True, slots=True)
class Dilution:
    """One step down: `take_ml` of the mix before (from `vessel`) filled up with water to `to_ml`."""

    vessel: Vessel
    take_ml: float
    to_ml: float


@dataclass(frozen=True, slots=True)
class Batch:
    """One feed mixed for a round: `mass_mg` stirred into water to make `water_ml`, then thinned step by step.

    `measures` says how many of the feed's own measures that is where there is no scale, else None. `within` tells
    whether every dose keeps the limit on its error. What is left over is thrown away.
    """

    feed: str
    mass_mg: float
    measures: float | None
    water_ml: float
    dilutions: tuple[Dilution, ...]
    doses: tuple[Dose, ...]
    within: bool

    @property
    def made_ml(self) -> float:
        """What the last vessel holds before the first dose is drawn."""
        return self.dilutions[-1].to_ml if self.dilutions else self.water_ml

    @property
    def mg_per_ml(self) -> float:
        """How strong the mix is that the doses are drawn from."""
        strength = self.mass_mg / self.water_ml
        for step in self.dilutions:
            strength *= step.take_ml / step.to_ml
        return strength

    @property
    def left_ml(self) -> float:
        """What is left of the mix after the last dose."""
        return self.made_ml - sum(dose.ml * dose.times for dose in self.doses)
