"""The un-ionised part of ammonia beside a reference: PHREEQC (USGS), through phreeqpython, worked out here and now."""

from __future__ import annotations

from typing import Any

import pytest
from phreeqpython import PhreeqPython

from schedules.water.chemistry.ammonia import unionised_part

WITHIN = 0.003
"""Emerson 1975 and PHREEQC's database agree to this part of the value at no ionic strength, 20 to 30 °C."""


@pytest.fixture(scope="module", name="phreeqc")
def _phreeqc() -> Any:
    return PhreeqPython(database="phreeqc.dat")


@pytest.mark.parametrize("ph", [7.0, 7.5, 8.0, 8.5])
@pytest.mark.parametrize("celsius", [20, 25, 28, 30])
def test_the_unionised_part_is_what_phreeqc_works_out(phreeqc: Any, celsius: int, ph: float) -> None:
    water = {"units": "mmol/kgw", "temp": celsius, "pH": ph, "N(-3)": 0.01}
    species = phreeqc.add_solution(water).species

    theirs = species["NH3"] / (species["NH3"] + species["NH4+"])

    assert unionised_part(ph, celsius) == pytest.approx(theirs, rel=WITHIN)
