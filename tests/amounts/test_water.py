"""Ammonia: the un-ionised part, the criteria, and what feed brings, against published tables."""

from __future__ import annotations

from dataclasses import replace
from math import floor, log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.amounts.load import days_load, feed_load, watched_days
from schedules.amounts.load.load import AMMONIA_IF_EATEN, AMMONIA_IF_LEFT
from schedules.room import Presence, Water
from schedules.water.chemistry.ammonia import pka, unionised_part
from schedules.water.chemistry.criteria import acute_criterion, chronic_criterion
from tests.amounts.rooms import TODAY, Past, days_ago, make_feed, make_room, make_tank

# Table 1.4 of Fundamentals of Aquatic Veterinary Medicine, the same as in University of Florida IFAS circular FA16.
# Its column for 32 °C is wrong (it fits 32.66 °C) and is left out, as is the misprint at pH 7.4 and 20 °C.
PRINTED = {
    7.0: (0.0034, 0.0039, 0.0046, 0.0052, 0.0060, 0.0069, 0.0080),
    7.2: (0.0054, 0.0062, 0.0072, 0.0083, 0.0096, 0.0110, 0.0126),
    7.4: (0.0085, None, 0.0114, 0.0131, 0.0150, 0.0173, 0.0198),
    7.6: (0.0134, 0.0155, 0.0179, 0.0206, 0.0236, 0.0271, 0.0310),
    7.8: (0.0211, 0.0244, 0.0281, 0.0322, 0.0370, 0.0423, 0.0482),
    8.0: (0.0330, 0.0381, 0.0438, 0.0502, 0.0574, 0.0654, 0.0743),
    8.2: (0.0514, 0.0590, 0.0676, 0.0772, 0.0880, 0.0998, 0.1129),
    8.4: (0.0790, 0.0904, 0.1031, 0.1171, 0.1326, 0.1495, 0.1678),
}
COLUMNS = (18, 20, 22, 24, 26, 28, 30)

# Trussell 1972, percent, from other data than Emerson's: an environmental test manual's appendix.
TRUSSELL = {
    7.0: {20: 0.40, 25: 0.55},
    7.5: {20: 1.24, 25: 1.73},
    8.0: {20: 3.83, 25: 5.28},
    8.5: {20: 11.18, 25: 14.97},
}

# PHREEQC (phreeqpython 1.6.2, phreeqc.dat), 0.01 mmol/kg of N(-III), percent un-ionised, worked out beforehand.
PHREEQC = {
    (20, 7.0): 0.395,
    (20, 7.5): 1.238,
    (20, 8.0): 3.813,
    (20, 8.5): 11.140,
    (25, 7.0): 0.565,
    (25, 7.5): 1.764,
    (25, 8.0): 5.373,
    (25, 8.5): 15.225,
    (28, 8.0): 6.545,
    (30, 8.0): 7.437,
}

# EPA 2013 as adopted in Oregon's Tables 30A, 30B and 30C, quoted by the tests of a published water-quality package.
CRITERIA_PH = (6.5, 7.0, 7.5, 8.0, 8.5, 9.0)
ACUTE_WITH_SALMONIDS = {
    10: (33, 24, 13, 5.6, 2.1, 0.88),
    20: (23, 17, 9.2, 3.9, 1.5, 0.62),
    30: (9.9, 7.3, 4.0, 1.7, 0.65, 0.27),
}
ACUTE_WITHOUT = {
    10: (51, 38, 21, 8.8, 3.3, 1.4),
    20: (23, 17, 9.2, 3.9, 1.5, 0.62),
    30: (9.9, 7.3, 4.0, 1.7, 0.65, 0.27),
}
CHRONIC = {
    5: (4.9, 4.4, 3.2, 1.8, 0.80, 0.36),
    20: (2.1, 1.9, 1.4, 0.78, 0.35, 0.16),
    30: (1.1, 0.99, 0.73, 0.41, 0.18, 0.081),
}


def two_figures(value: float) -> float:
    """A value rounded to two significant figures, as the criteria are printed."""
    return round(value, 1 - floor(log10(value)))


@pytest.mark.parametrize("ph", PRINTED)
def test_the_unionised_part_agrees_with_the_printed_table(ph: float) -> None:
    for celsius, printed in zip(COLUMNS, PRINTED[ph], strict=True):
        if printed is not None:
            assert unionised_part(ph, celsius) == pytest.approx(printed, abs=1.01e-4)


def test_the_misprint_of_the_table_is_not_followed() -> None:
    assert round(unionised_part(7.4, 20), 4) == 0.0098


def test_the_worked_example_of_the_circular_comes_out() -> None:
    # 1.0 mg/L of total ammonia nitrogen at 24 °C and pH 8.0: 0.0502 mg/L un-ionised
    assert 1.0 * unionised_part(8.0, 24) == pytest.approx(0.0502, abs=5e-5)


def test_the_constant_is_emersons_and_not_the_misprinted_one() -> None:
    # 2729.92; a published package prints 2727.92, which would give 0.05445 here
    assert pka(25) == pytest.approx(9.24638, abs=5e-6)
    assert unionised_part(8.0, 25) == pytest.approx(0.053662, abs=1e-6)


def test_trussells_table_from_other_data_lies_within_three_percent() -> None:
    for ph, row in TRUSSELL.items():
        for celsius, percent in row.items():
            assert 100 * unionised_part(ph, celsius) == pytest.approx(percent, rel=0.03)


@pytest.mark.parametrize(("celsius", "ph"), PHREEQC)
def test_the_unionised_part_agrees_with_phreeqc(celsius: int, ph: float) -> None:
    assert 100 * unionised_part(ph, celsius) == pytest.approx(PHREEQC[celsius, ph], rel=0.003)


@pytest.mark.parametrize("column", range(6))
def test_every_cell_of_the_criteria_comes_out_as_adopted(column: int) -> None:
    ph = CRITERIA_PH[column]
    for celsius, row in ACUTE_WITH_SALMONIDS.items():
        assert two_figures(acute_criterion(ph, celsius, salmonids=True)) == row[column]
    for celsius, row in ACUTE_WITHOUT.items():
        assert two_figures(acute_criterion(ph, celsius)) == row[column]
    for celsius, row in CHRONIC.items():
        assert two_figures(chronic_criterion(ph, celsius)) == row[column]


def test_the_chronic_criterion_turns_at_twenty_degrees_and_not_at_ten() -> None:
    # a published copy has 10 in the exponent, which gives 0.99 at pH 7 and 20 °C
    assert chronic_criterion(7.0, 20) == pytest.approx(1.88702, abs=5e-6)


# Losordo and DeLong's inputs (60 kg of 40 % protein) and pure arithmetic; results worked out from the coefficients.
@pytest.mark.parametrize(
    ("mg", "protein", "eaten", "left"),
    [
        (1e6, 0.35, 32_200, 56_000),
        (1e6, 0.40, 36_800, 64_000),
        (60e6, 0.40, 2_208_000, 3_840_000),
        (50, 0.45, 2.07, 3.6),
    ],
)
def test_feed_turns_into_ammonia_by_the_published_coefficients(
    mg: float, protein: float, eaten: float, left: float
) -> None:
    assert mg * protein * AMMONIA_IF_EATEN == pytest.approx(eaten, rel=1e-9)
    assert mg * protein * AMMONIA_IF_LEFT == pytest.approx(left, rel=1e-9)
    # 0.16 × 0.80 × 0.80 × 0.90, Timmons and Ebeling as quoted
    assert pytest.approx(0.16 * 0.80 * 0.80 * 0.90, rel=2e-3) == AMMONIA_IF_EATEN


def test_fifty_milligrams_in_forty_litres_are_a_twentieth_of_a_milligram_per_litre() -> None:
    feed = make_feed("dust", "powder", protein=0.45)
    tank = make_tank("a1", (feed,), water=Water(temperature=24.0, ph=7.5))
    load = feed_load(tank, [(feed, 50.0)])
    assert (load.eaten, load.left) == pytest.approx((0.05175, 0.09))
    assert load.chronic == pytest.approx(1.0767, abs=5e-5)


def test_a_milligram_per_litre_of_feed_of_45_percent_protein_brings_what_the_reference_says() -> None:
    # 0.041 mg/L of ammonia nitrogen if eaten, 0.072 if all nitrogen comes out: our own reference table.
    feed = make_feed("dust", "powder", protein=0.45)
    load = feed_load(make_tank("a1", (feed,), litres=30.0), [(feed, 30.0)])
    assert (load.eaten, load.left) == pytest.approx((0.041, 0.072), abs=5e-4)


def test_a_tank_that_was_never_measured_is_taken_on_the_safe_side() -> None:
    feed = make_feed("dust", "powder")
    unmeasured = feed_load(make_tank("a1", (feed,)), [(feed, 50.0)])
    assert not unmeasured.measured
    assert (
        unmeasured.chronic
        < feed_load(make_tank("a1", (feed,), water=Water(temperature=23.0, ph=7.2)), [(feed, 50.0)]).chronic
    )


def test_a_days_load_is_that_of_everything_given() -> None:
    dust, wafer = make_feed("dust", "powder"), make_feed("wafer", "staple")
    tank = make_tank("a1", (dust, wafer))
    past = Past().gave("a1", dust, TODAY, 0.3, amount_mg=12.0).gave("a1", wafer, TODAY, 0.6, amount_mg=30.0)
    load = days_load(make_room((dust, wafer), tank), past.history(), tank, TODAY, 1)
    assert load.left == pytest.approx((12 * dust.protein + 30 * wafer.protein) * 0.16 / 40)


def test_tanks_with_young_or_in_quarantine_are_looked_at_over_several_days() -> None:
    dust = make_feed("dust", "powder")
    young, grown = make_tank("a1", (dust,)), make_tank("a1", (dust,), animals=(Presence("adult", 40),))
    quarantine = replace(grown, quarantine=True)
    assert [watched_days(tank, TODAY) for tank in (young, grown, quarantine)] == [3, 1, 3]
    past = Past()
    for back in range(5):
        past.gave("a1", dust, days_ago(back), 0.3, amount_mg=12.0)
    one = days_load(make_room((dust,), young), past.history(), young, TODAY, 1)
    several = days_load(make_room((dust,), young), past.history(), young, TODAY)
    assert several.left == pytest.approx(3 * one.left)


@given(st.floats(5, 10), st.floats(0, 40))
def test_warmer_and_more_alkaline_water_is_never_judged_more_kindly(ph: float, celsius: float) -> None:
    assert 0 < unionised_part(ph, celsius) < 1
    assert unionised_part(ph + 0.1, celsius) > unionised_part(ph, celsius)
    assert unionised_part(ph, celsius + 1) > unionised_part(ph, celsius)
    assert chronic_criterion(ph + 0.1, celsius) <= chronic_criterion(ph, celsius)
    assert chronic_criterion(ph, celsius + 1) <= chronic_criterion(ph, celsius)
    assert chronic_criterion(ph, celsius) < acute_criterion(ph, celsius)
