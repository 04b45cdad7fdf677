"""At which age shrimplets become juveniles, and juveniles adults.

60 and 75 days at 25 to 28 °C (Nur and Christianus 2013, Mahmoud and others 2020). No law of temperature is published;
at 24 °C young are lighter for the first 30 days (Tropea and others 2015). So below 24 °C the ages are those at which
the slow bound of the growth curve reaches the lengths of 60 and 75 days, 16.7 and 18.5 mm: 88 and 110 days. The fast
bound reaches them with 48 and 60 days. The bounds are a proposal, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from schedules.history.life.curve import is_cool
from schedules.room.kinds import Stage


@dataclass(frozen=True, slots=True)
class Ages:
    """The days after a hatch on which shrimplets become juveniles, and these become adults."""

    juvenile: int
    adult: int


USUAL: Final = Ages(60, 75)
SLOW: Final = Ages(88, 110)
FAST: Final = Ages(48, 60)
NEXT: Final[dict[Stage, Stage]] = {"shrimplet": "juvenile", "juvenile": "adult"}
BEFORE: Final[dict[Stage, Stage]] = {after: before for before, after in NEXT.items()}


def ages_at(celsius: float | None) -> Ages:
    """The ages at a tank's temperature; a tank that was never measured counts as warm."""
    return SLOW if is_cool(celsius) else USUAL


def could_be(stage: Stage, age: int) -> bool:
    """Whether animals of an age in days can be at a stage, by the bounds of growth."""
    if stage == "shrimplet":
        return age <= SLOW.juvenile
    if stage == "juvenile":
        return FAST.juvenile <= age <= SLOW.adult
    return stage == "adult" and age >= FAST.adult
