"""Units there and back, and against published values."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.room import Units
from schedules.room.units import (
    celsius_from_fahrenheit,
    degrees_from,
    degrees_from_mg_per_litre,
    fahrenheit_from_celsius,
    gallons_from_litres,
    hardness_text,
    litres_from,
    litres_from_gallons,
    mg_per_litre_from_degrees,
    number_text,
    temperature_text,
    volume_text,
)

METRIC, US = Units(), Units(us=True, hardness_mg_per_litre=True)
tenths = st.integers(1, 200_000).map(lambda number: number / 10)


@given(tenths)
def test_a_volume_in_gallons_reads_the_same_after_it_was_kept_in_litres(gallons: float) -> None:
    assert volume_text(litres_from_gallons(gallons), US) == f"{number_text(gallons)} gal"


@given(tenths)
def test_litres_survive_a_way_through_gallons(litres: float) -> None:
    assert isclose(litres_from_gallons(gallons_from_litres(litres)), litres, rel_tol=1e-15 * 2)


@given(st.integers(-100, 2000).map(lambda number: number / 10))
def test_a_temperature_in_fahrenheit_reads_the_same_after_it_was_kept_in_celsius(fahrenheit: float) -> None:
    assert temperature_text(celsius_from_fahrenheit(fahrenheit), US) == f"{number_text(fahrenheit)} °F"


@given(st.integers(0, 2000))
def test_a_hardness_in_mg_per_litre_reads_the_same_after_it_was_kept_in_degrees(mg_per_litre: int) -> None:
    assert hardness_text(degrees_from_mg_per_litre(mg_per_litre), US, "GH") == f"GH {mg_per_litre} mg/L"


def test_a_gallon_is_231_cubic_inches() -> None:
    # By definition (NIST Handbook 44, appendix C; from memory, not retrieved): 231 cubic inches of 2.54 cm.
    assert isclose(litres_from_gallons(1), 231 * 2.54**3 / 1000, rel_tol=1e-12)


@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0, 32), (100, 212), (-40, -40), (25, 77)])
def test_fixed_points_of_both_temperature_scales_agree(celsius: float, fahrenheit: float) -> None:
    # Freezing and boiling of water, the point where the scales meet, and a warm tank: by definition of the scales.
    assert fahrenheit_from_celsius(celsius) == fahrenheit
    assert celsius_from_fahrenheit(fahrenheit) == celsius


def test_a_degree_of_hardness_is_ten_mg_of_calcium_oxide() -> None:
    # internetchemie.info, "Deutscher Härtegrad": 1 °dH = 10 mg/L CaO = 17.8 mg/L CaCO3; molar masses by IUPAC.
    assert isclose(mg_per_litre_from_degrees(1), 10 * 100.086 / 56.077, rel_tol=1e-5)
    assert round(mg_per_litre_from_degrees(1), 1) == 17.8


def test_a_water_works_example_of_hardness_comes_out() -> None:
    # lwik.lubsko.pl, worked example: 3.35 meq/L = 167.5 mg/L CaCO3 = 9.38 °dH (exactly 9.393 for 167.65 mg/L).
    assert isclose(degrees_from_mg_per_litre(167.5), 9.38, abs_tol=0.01)


@pytest.mark.parametrize(
    ("units", "volume", "temperature", "hardness"),
    [(METRIC, "75.7 L", "24 °C", "6 dGH"), (US, "20 gal", "75.2 °F", "GH 107 mg/L")],
)
def test_each_keeper_reads_their_own_units(units: Units, volume: str, temperature: str, hardness: str) -> None:
    assert volume_text(75.70823568, units) == volume
    assert temperature_text(24, units) == temperature
    assert hardness_text(6, units) == hardness


def test_a_value_in_the_units_of_the_domain_is_left_alone() -> None:
    assert litres_from(54, METRIC) == 54
    assert degrees_from(6, METRIC) == 6


@given(st.floats(-1e6, 1e6), st.integers(0, 3))
def test_a_number_as_text_is_the_number_rounded_and_has_no_idle_zeros(value: float, decimals: int) -> None:
    text = number_text(value, decimals)
    assert float(text) == round(value, decimals)
    assert text != "-0"
    assert not ("." in text and text.endswith(("0", ".")))
