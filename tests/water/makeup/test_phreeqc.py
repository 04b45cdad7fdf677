"""Salts and mixes beside a reference: PHREEQC (USGS), through phreeqpython, worked out here and now."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest
from phreeqpython import PhreeqPython

from schedules.room.units import MG_CACO3_PER_DEGREE
from schedules.room.water.ions import conductivity_of, degrees_of, molar_mass
from schedules.water.makeup.minerals import Minerals, mixed

MG_CACO3_PER_MMOL = 100.09
"""Molar mass of calcium carbonate, by which PHREEQC's mmol/L become the mg/L of the definition of a degree."""
SALTS = ["CaSO4", "MgSO4", "CaCl2", "MgCl2", "KHCO3", "NaHCO3", "NaCl"]
CONDUCTIVITY_WITHIN = 0.08
SULPHATES_WITHIN = 0.15
"""Of 2 mmol/L of a sulphate alone, which is more than a tank gets: its ions go in pairs that carry nothing."""
MIX_WITHIN = 0.06
"""Conductivity of a mix of waters as far apart as 50 and 470 µS/cm beside the mean of theirs."""


@pytest.fixture(scope="module", name="phreeqc")
def _phreeqc() -> Any:
    return PhreeqPython(database="phreeqc.dat")


def solution(phreeqc: Any, mmol: dict[str, float]) -> Any:
    made = phreeqc.add_solution({"temp": 25})
    for salt, amount in mmol.items():
        made.add(salt, amount)
    return made


def hardness_of(made: Any) -> float:
    """German degrees, from PHREEQC's calcium and magnesium."""
    return float((made.total("Ca") + made.total("Mg")) * MG_CACO3_PER_MMOL / MG_CACO3_PER_DEGREE)


def alkalinity_of(made: Any) -> float:
    """German degrees, from PHREEQC's charge of everything that takes up acid (meq are half a mmol of carbonate)."""
    eq = sum(
        made.species.get(name, 0.0) * charges
        for name, charges in (
            *(("HCO3-", 1), ("CO3-2", 2), ("OH-", 1), ("H+", -1)),
            *(("CaHCO3+", 1), ("MgHCO3+", 1), ("NaHCO3", 1), ("CaCO3", 2), ("MgCO3", 2), ("NaCO3-", 2)),
        )
    )
    return float(eq * 1000 / 2 * MG_CACO3_PER_MMOL / MG_CACO3_PER_DEGREE)


@pytest.mark.parametrize("salt", SALTS)
def test_a_salt_brings_the_hardness_and_alkalinity_phreeqc_finds(phreeqc: Any, salt: str) -> None:
    made = solution(phreeqc, {salt: 1.0})

    gh, kh = degrees_of([(salt, molar_mass(salt) / 1000)])

    assert gh == pytest.approx(hardness_of(made), rel=2e-3, abs=1e-9)
    assert kh == pytest.approx(alkalinity_of(made), rel=5e-3, abs=0.01)


def test_crystal_water_weighs_but_brings_nothing(phreeqc: Any) -> None:
    gypsum = molar_mass("CaSO4.2H2O") / 1000
    assert degrees_of([("CaSO4.2H2O", gypsum)])[0] == pytest.approx(hardness_of(solution(phreeqc, {"CaSO4": 1})), 2e-3)


@pytest.mark.parametrize("millimoles", [0.3, 1.0, 2.0])
@pytest.mark.parametrize("salt", SALTS)
def test_conductivity_is_about_what_phreeqc_finds(phreeqc: Any, salt: str, millimoles: float) -> None:
    theirs = solution(phreeqc, {salt: millimoles}).sc

    ours = conductivity_of([(salt, molar_mass(salt) * millimoles / 1000)])

    within = SULPHATES_WITHIN if millimoles == 2 and "SO4" in salt else CONDUCTIVITY_WITHIN
    assert ours == pytest.approx(theirs, rel=within)


def test_conductivity_of_a_usual_mineral_mix_is_what_phreeqc_finds(phreeqc: Any) -> None:
    mix = {"CaSO4": 0.5, "CaCl2": 0.3, "MgSO4": 0.3, "KHCO3": 0.5}
    theirs = solution(phreeqc, mix).sc

    ours = conductivity_of([(salt, molar_mass(salt) * mmol / 1000) for salt, mmol in mix.items()])

    assert ours == pytest.approx(theirs, rel=CONDUCTIVITY_WITHIN)


WATERS = {
    "soft": {"CaCl2": 0.2, "NaHCO3": 0.1},
    "hard": {"CaCl2": 1.0, "MgSO4": 0.6, "KHCO3": 1.5},
    "sulphate": {"CaSO4": 1.2, "MgSO4": 0.4},
}


@pytest.mark.parametrize(("one", "other"), list(combinations(WATERS, 2)))
@pytest.mark.parametrize("part", [0.2, 0.5, 0.9])
def test_a_mix_of_two_waters_is_what_phreeqc_mixes(phreeqc: Any, one: str, other: str, part: float) -> None:
    first, second = solution(phreeqc, WATERS[one]), solution(phreeqc, WATERS[other])
    theirs = phreeqc.mix_solutions({first: part, second: 1 - part})

    ours = mixed([(part, read(first)), (1 - part, read(second))])

    assert ours.gh == pytest.approx(hardness_of(theirs), rel=2e-3)
    assert ours.kh == pytest.approx(alkalinity_of(theirs), rel=0.01, abs=0.01)
    assert ours.tds == pytest.approx(theirs.sc, rel=MIX_WITHIN)


def read(made: Any) -> Minerals:
    """What a keeper would read in PHREEQC's water; conductivity in the place of dissolved solids."""
    return Minerals(made.sc, hardness_of(made), alkalinity_of(made))
