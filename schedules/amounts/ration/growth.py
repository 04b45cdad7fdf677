"""How long and how heavy an animal is: length by age or stage, body mass by length.

No equation of length and mass was found published for Neocaridina, and no temperature law of growth. What is here was
built from single published figures, and says how far off it may be.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from schedules.history.life.curve import is_cool, length_at
from schedules.room import Presence
from schedules.room.kinds import Stage

LEAST_MG: Final = 0.4
"""A hatchling cannot be far below the mass of its egg."""
MG_PER_MM3: Final = 0.009
"""Between 0.0065 and 0.0155 in all slender freshwater shrimp with published figures."""
USUAL_MM: Final[dict[Stage, float]] = {"shrimplet": 6.0, "juvenile": 13.0, "adult": 20.0, "filter_feeder": 60.0}
"""Where neither length nor age is known. Common practice, no source."""

Basis = Literal["measured", "age", "slow_age", "stage"]
SPREAD: Final[dict[Basis, float]] = {"measured": 1.7, "age": 2.0, "slow_age": 2.0, "stage": 3.0}
"""How many times the mass may be off either way, by what it was worked out from."""
FAN_SPREAD: Final = 1.5
GRAMS_TO_MG: Final = 1000.0


@dataclass(frozen=True, slots=True)
class Length:
    """A total length in mm (tip of the rostrum to the tail), and what it was worked out from."""

    mm: float
    basis: Basis


def length_of(animals: Presence, day: date, celsius: float | None) -> Length:
    """How long animals are on a day: as measured, else by their age, else as usual at their stage.

    Fan feeders have no growth curve. `celsius` is the tank's temperature; None counts as warm.
    """
    if animals.length is not None:
        return Length(animals.length, "measured")
    hatched = animals.hatch_day
    if hatched is None or animals.stage == "filter_feeder":
        return Length(USUAL_MM[animals.stage], "stage")
    slow = is_cool(celsius)
    return Length(length_at((day - hatched).days, slow=slow), "slow_age" if slow else "age")


def body_mg(mm: float) -> float:
    """Wet mass of a slender shrimp in mg by total length: max(0.4, 0.009 TL³), × or ÷ 1.7 from 6 mm up."""
    return float(max(LEAST_MG, MG_PER_MM3 * mm**3))


def fan_body_mg(mm: float) -> float:
    """Wet mass of a fan feeder in mg by total length: the mean of both sexes of Atya margaritacea.

    W = 1.02e-5 TL^3.2089 g (male), 2.29e-5 TL^3.0159 g (female), 15 to 96 mm (Sanchez Palacios and others 2008, Rev.
    Biol. Trop. 56:513-522); × or ÷ 1.5, and Atyopsis may be lighter.
    """
    male, female = 1.02e-5 * mm**3.2089, 2.29e-5 * mm**3.0159
    return float(GRAMS_TO_MG * (male + female) / 2)
