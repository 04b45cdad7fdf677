"""Conductivity, dissolved solids and ammonia at a tank's own readings, against published values."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline

from schedules.amounts.load import days_load
from schedules.ledger import Reading, Served
from schedules.room import Units, Water
from schedules.water.chemistry.conductivity import (
    F25,
    conductivity_at_25,
    conductivity_linear,
    factor_to_25,
    solids_of,
)
from schedules.water.chemistry.sources import SOURCES
from schedules.water.derived import NoTemperature, ammonia_of, settled, solids_now, water_on
from tests.water.rooms import TODAY, first_rack, past_of


@given(st.floats(0, 35))
def test_between_its_printed_degrees_the_factor_of_iso_7888_runs_as_scipys_spline_through_them(celsius: float) -> None:
    degrees, factors = zip(*F25, strict=True)
    spline = np.exp(CubicSpline(degrees, np.log(factors))(celsius))
    assert factor_to_25(celsius) == pytest.approx(float(spline), abs=1.5e-3)


@pytest.mark.parametrize("celsius", [-0.1, 35.1, 80])
def test_outside_of_the_standards_table_nothing_is_made_up(celsius: float) -> None:
    with pytest.raises(ValueError, match="from 0 to 35 °C"):
        factor_to_25(celsius)


# 0.01 mol/kg KCl: Wu, Koch and Pratt 1991, J. Res. NIST 96:191 (CRC Handbook, p. 5-73), uncertainty 0.03 %.
KCL = {15: 1141.45, 18: 1219.93, 20: 1273.03, 25: 1408.23, 30: 1546.63}


@pytest.mark.parametrize(("celsius", "measured"), KCL.items())
def test_the_linear_compensation_brings_the_potassium_chloride_standard_to_1408(celsius: int, measured: float) -> None:
    assert conductivity_linear(measured, celsius) == pytest.approx(1408.23, rel=3e-3)


@pytest.mark.parametrize(("celsius", "percent"), [(20, 0.9), (10, 1.9), (35, 2.1)])
def test_the_natural_water_curve_differs_from_the_linear_one_as_published(celsius: int, percent: float) -> None:
    # ISO 7888's table beside 1.91 % a degree: 1.116/1.106, 1.428/1.402, 0.822/0.8396.
    ratio = conductivity_at_25(500, celsius) / conductivity_linear(500, celsius)
    assert abs(ratio - 1) * 100 == pytest.approx(percent, abs=0.06)


# A meter maker's table of standards: 1413 µS/cm is 744.7 mg/L of KCl, 702.1 of NaCl, 1000 of the natural mixture "442".
@pytest.mark.parametrize(("factor", "milligrams"), [(0.527, 744.7), (0.497, 702.1), (0.708, 1000)])
def test_dissolved_solids_follow_from_conductivity_by_the_meters_factor(factor: float, milligrams: float) -> None:
    assert solids_of(1413, factor) == pytest.approx(milligrams, rel=1e-3)


def test_an_ammonia_reading_is_set_against_the_criteria_at_the_tanks_own_readings() -> None:
    # University of Florida IFAS circular FA16: 1.0 mg/L, 24 °C, pH 8.0: 0.0502 mg/L of un-ionised ammonia nitrogen.
    # EPA 2013 at pH 8 and 24 °C: chronic 0.6004, acute 2.8 (adopted tables, two figures).
    _, tank = first_rack(Water(temperature=20.0, ph=7.0))
    history = past_of(
        (3, Reading(tank.id, "ammonia", 1.0)),
        (2, Reading(tank.id, "ph", 8.0)),
        (1, Reading(tank.id, "temperature", 24.0)),
    )
    found = ammonia_of(history, tank)
    assert found is not None
    assert found.unionised == pytest.approx(0.0502, abs=5e-5)
    assert found.chronic == pytest.approx(0.6004, abs=5e-5)
    assert found.acute == pytest.approx(2.8, abs=0.05)
    assert ammonia_of(past_of(), tank) is None


def test_the_ammonia_load_of_a_day_uses_what_was_read_last_up_to_that_day() -> None:
    room, tank = first_rack(Water(temperature=20.0, ph=7.0))
    given = Served(tank.id, next(iter(room.feeds)), "morning", 1, "spoon", 50, 0.2, True)
    history = past_of(
        (6, Reading(tank.id, "ph", 7.5)),
        (6, Reading(tank.id, "temperature", 24)),
        (0, Reading(tank.id, "ph", 8.4)),
        (3, given),
    )
    before = days_load(room, history, tank, TODAY.replace(day=22), 1)
    assert (before.ph, before.celsius) == (7.5, 24)
    assert before.chronic == pytest.approx(1.0767, abs=5e-5)  # EPA 2013 at pH 7.5 and 24 °C
    assert days_load(room, history, tank, TODAY, 1).ph == 8.4
    assert water_on(history, tank).ph == 8.4


def test_a_meter_without_compensation_needs_the_temperature_and_takes_it_from_the_same_reading_or_the_last() -> None:
    room, tank = first_rack(Water(temperature=20.0), Units(us=True))
    plain = replace(room, water=replace(room.water, compensated=False))
    history = past_of()
    assert settled(room, history, tank.id, {"conductivity": 300})["conductivity"] == 300
    assert settled(plain, history, tank.id, {"conductivity": 300})["conductivity"] == pytest.approx(300 * 1.116)
    both = settled(plain, history, tank.id, {"conductivity": 300, "temperature": 71.6})
    assert both["temperature"] == pytest.approx(22)
    assert both["conductivity"] == pytest.approx(300 * 1.067)
    unread = replace(plain, tanks={**plain.tanks, tank.id: replace(tank, water=Water())})
    with pytest.raises(NoTemperature, match="read temperature with it"):
        settled(unread, history, tank.id, {"conductivity": 300})


def test_dissolved_solids_now_are_the_newer_of_what_was_read_and_what_conductivity_says() -> None:
    room, tank = first_rack()
    room = replace(room, water=replace(room.water, tds_factor=0.7))
    older = past_of((5, Reading(tank.id, "tds", 180)), (2, Reading(tank.id, "conductivity", 300)))
    newest = solids_now(room, older, tank)
    assert newest is not None
    assert newest.value == pytest.approx(210)
    history = past_of((1, Reading(tank.id, "tds", 180)), (2, Reading(tank.id, "conductivity", 300)))
    read = solids_now(room, history, tank)
    assert read is not None
    assert read.value == 180


def test_every_formula_has_a_source_and_says_where_it_holds() -> None:
    for source in SOURCES.values():
        assert source.formula
        assert source.published
        assert source.holds
