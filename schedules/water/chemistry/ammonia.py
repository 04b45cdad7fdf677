"""How much of the ammonia in water is un-ionised, the part that harms."""

from __future__ import annotations

from typing import Final

KELVIN: Final = 273.15


def pka(celsius: float) -> float:
    """The acidity constant of ammonium at a temperature from 0 to 50 °C, in fresh water of no ionic strength."""
    return 0.09018 + 2729.92 / (celsius + KELVIN)


def unionised_part(ph: float, celsius: float) -> float:
    """The part (0 to 1) of total ammonia that is un-ionised, by pH and °C (0 to 50).

    Emerson, Russo, Lund and Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383. Some 7 % too high in moderately hard
    water, so on the safe side.
    """
    return float(1 / (1 + 10 ** (pka(celsius) - ph)))
