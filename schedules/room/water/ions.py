"""What a salt of a stated composition brings into water: hardness, alkalinity and what a meter shows of it.

Atomic weights: IUPAC. Conductivities of ions: CRC Handbook of Chemistry and Physics, "Ionic conductivity and
diffusion at infinite dilution", 25 °C. No salt of copper or another metal that harms shrimp is known here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import sqrt
from typing import Final

from schedules.room.units import MG_CACO3_PER_DEGREE

_MASS_OF_CACO3: Final = 100.086
DEGREES_PER_MMOL: Final = _MASS_OF_CACO3 / MG_CACO3_PER_DEGREE
"""German degrees in one mmol/L of calcium or magnesium, or in two meq/L of alkalinity: 5.608."""
_WATER: Final = 18.015
_USUAL_STRENGTH: Final = 0.2
"""g/L at which conductivity is worked out, about that of make-up water: it does not rise evenly with the amount."""


@dataclass(frozen=True, slots=True)
class Ion:
    """An ion: g/mol, charge, conductivity of one equivalent (S cm²/mol), mol of hardness and eq of alkalinity a mol."""

    mass: float
    charge: int
    conductivity: float
    hardness: int = 0
    alkalinity: int = 0


IONS: Final[Mapping[str, Ion]] = {
    "Ca": Ion(40.078, 2, 59.47, hardness=1),
    "Mg": Ion(24.305, 2, 53.0, hardness=1),
    "Na": Ion(22.990, 1, 50.08),
    "K": Ion(39.098, 1, 73.48),
    "Cl": Ion(35.453, 1, 76.31),
    "SO4": Ion(96.06, 2, 80.0),
    "HCO3": Ion(61.017, 1, 44.5, alkalinity=1),
    "CO3": Ion(60.009, 2, 69.3, alkalinity=2),
    "NO3": Ion(62.004, 1, 71.42),
}

_SALTS: Final[Mapping[str, tuple[Mapping[str, int], int]]] = {
    "CaCl2": ({"Ca": 1, "Cl": 2}, 0),
    "CaCl2.2H2O": ({"Ca": 1, "Cl": 2}, 2),
    "CaCl2.6H2O": ({"Ca": 1, "Cl": 2}, 6),
    "CaSO4": ({"Ca": 1, "SO4": 1}, 0),
    "CaSO4.2H2O": ({"Ca": 1, "SO4": 1}, 2),
    "CaCO3": ({"Ca": 1, "CO3": 1}, 0),
    "MgCl2": ({"Mg": 1, "Cl": 2}, 0),
    "MgCl2.6H2O": ({"Mg": 1, "Cl": 2}, 6),
    "MgSO4": ({"Mg": 1, "SO4": 1}, 0),
    "MgSO4.7H2O": ({"Mg": 1, "SO4": 1}, 7),
    "KHCO3": ({"K": 1, "HCO3": 1}, 0),
    "K2CO3": ({"K": 2, "CO3": 1}, 0),
    "NaHCO3": ({"Na": 1, "HCO3": 1}, 0),
    "Na2CO3": ({"Na": 2, "CO3": 1}, 0),
    "NaCl": ({"Na": 1, "Cl": 1}, 0),
    "KCl": ({"K": 1, "Cl": 1}, 0),
    "K2SO4": ({"K": 2, "SO4": 1}, 0),
}
PARTS: Final[tuple[str, ...]] = (*_SALTS, *IONS)
"""What a composition may name: salts with their water of crystallisation, and single ions."""


def part_named(formula: str) -> str | None:
    """A part as it is called here, with `·` or `*` for the point before the water; None for one not known."""
    plain = formula.replace("·", ".").replace("*", ".").replace(" ", "")
    return plain if plain in PARTS else None


def molar_mass(part: str) -> float:
    """g/mol of a salt with its water, or of an ion. KeyError for a part not known."""
    ions, water = _made_of(part)
    return sum(IONS[ion].mass * count for ion, count in ions.items()) + water * _WATER


def degrees_of(parts: Iterable[tuple[str, float]]) -> tuple[float, float]:
    """GH and KH in German degrees that grams of each part raise in one litre, wholly dissolved."""
    gh = kh = 0.0
    for ion, mmol in _ions_of(parts).items():
        gh += IONS[ion].hardness * mmol * DEGREES_PER_MMOL
        kh += IONS[ion].alkalinity * mmol / 2 * DEGREES_PER_MMOL
    return gh, kh


def conductivity_of(parts: Iterable[tuple[str, float]]) -> float:
    """µS/cm at 25 °C of grams of each part in one litre of pure water, to about 8 % (15 % for much sulphate).

    Conductivities of the ions at infinite dilution, times the square of the activity coefficient of a single charge
    (Standard Methods 2510 A, its form from memory). Good to an ionic strength of about 0.01 mol/L.
    """
    ions = _ions_of(parts)
    if "CO3" in ions:  # below pH 9 it is bicarbonate, half of it out of the air
        ions = ions | {"HCO3": ions.get("HCO3", 0.0) + 2 * ions["CO3"], "CO3": 0.0}
    strength = sum(mmol * IONS[ion].charge ** 2 for ion, mmol in ions.items()) / 2000
    root = sqrt(strength)
    activity = 10 ** (-0.5 * (root / (1 + root) - 0.3 * strength))
    return float(activity**2) * sum(mmol * IONS[ion].charge * IONS[ion].conductivity for ion, mmol in ions.items())


def conductivity_of_gram(parts: Iterable[tuple[str, float]]) -> float:
    """µS/cm that one gram of a salt, made of so much of each part, raises one litre by, at the usual strength."""
    return conductivity_of((part, share * _USUAL_STRENGTH) for part, share in parts) / _USUAL_STRENGTH


def _made_of(part: str) -> tuple[Mapping[str, int], int]:
    """The ions of a part and its water of crystallisation."""
    return ({part: 1}, 0) if part in IONS else _SALTS[part]


def _ions_of(parts: Iterable[tuple[str, float]]) -> dict[str, float]:
    """Millimoles of each ion in one litre."""
    found: dict[str, float] = {}
    for part, grams in parts:
        ions, _ = _made_of(part)
        mmol = grams / molar_mass(part) * 1000
        for ion, count in ions.items():
            found[ion] = found.get(ion, 0.0) + count * mmol
    return found
