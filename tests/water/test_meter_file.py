"""A meter's file: whatever a meter writes into it, it comes back in the domain's units or its line is named."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.water.meter_file import MeterFileFaults, readings_of
from tests.water.rooms import TODAY, first_rack

ROOM, TANK = first_rack()


@pytest.mark.parametrize(
    ("unit", "typed", "value"),
    [("°F", "75.2", 24), ("f", "75.2", 24), ("°C", "24", 24), ("", "24", 24)],
)
def test_a_temperature_in_any_unit_of_the_header_comes_back_in_celsius(unit: str, typed: str, value: float) -> None:
    header = f"temperature ({unit})" if unit else "temperature"
    (found,) = readings_of(f"tank,date,{header}\n{TANK.id},2026-11-24,{typed}\n", ROOM, TODAY)
    assert found.values["temperature"] == pytest.approx(value)
    assert (found.tank, found.day, found.time) == (TANK.id, date(2026, 11, 24), None)


def test_conductivity_in_millisiemens_and_a_date_with_its_time_are_understood() -> None:
    text = f"tank\tdate\tec (mS/cm)\n{TANK.id}\t2026-11-24T07:40\t0.283\n"
    (found,) = readings_of(text, ROOM, TODAY)
    assert found.values["conductivity"] == pytest.approx(283)
    assert found.time == "07:40"


@given(st.text(max_size=200))
def test_whatever_stands_in_a_file_it_is_read_or_its_lines_are_named(text: str) -> None:
    try:
        readings_of(text, ROOM, TODAY)
    except MeterFileFaults as faults:
        assert faults.faults
        assert all(fault.startswith("line ") for fault in faults.faults)


typed = st.sampled_from((TANK.id, "2026-11-24", "07:00", "180", "1,5", "nan", "inf", "-1", ""))
cells = st.one_of(typed, st.text(max_size=8))


@given(st.lists(st.lists(cells, min_size=3, max_size=4), max_size=6))
def test_below_a_sound_header_only_sound_numbers_come_through(rows: list[list[str]]) -> None:
    text = "tank;date;time;tds\n" + "\n".join(";".join(row) for row in rows)
    try:
        found = readings_of(text, ROOM, TODAY)
    except MeterFileFaults as faults:
        assert faults.faults
        return
    assert all(0 <= value <= 100_000 for reading in found for value in reading.values.values())
