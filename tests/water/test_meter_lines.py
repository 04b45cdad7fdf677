"""What a meter's file says, line by line: each name, unit, date and time as it is written down, and each fault."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from schedules.room import Units
from schedules.room.water.quantities import Quantity
from schedules.water import meter_file
from schedules.water.meter_file import MeterFileFaults, MeterReading, readings_of
from tests.water.rooms import METRIC, TODAY, UNREAD, first_rack

ROOM, TANK = first_rack()
A, B = ROOM.walk[:2]


def read(*lines: str, units: Units = METRIC) -> tuple[MeterReading, ...]:
    room, _ = first_rack(UNREAD, units)
    return readings_of("\n".join(lines), room, TODAY)


def one(header: str, cell: str, units: Units = METRIC) -> float:
    """The value of a single cell below a header."""
    (found,) = read(f"tank;date;{header}", f"{A};2026-11-24;{cell}", units=units)
    ((_, value),) = found.values.items()
    return value


def faults(*lines: str) -> tuple[str, ...]:
    with pytest.raises(MeterFileFaults) as caught:
        read(*lines)
    assert str(caught.value) == "\n".join(caught.value.faults)
    return caught.value.faults


@pytest.mark.parametrize(
    ("name", "quantity"),
    [
        ("temperature", "temperature"),
        ("Temp", "temperature"),
        ("EC", "conductivity"),
        ("conductivity", "conductivity"),
        ("TDS", "tds"),
        ("pH", "ph"),
        ("GH", "gh"),
        ("KH", "kh"),
        ("TAN", "ammonia"),
        ("ammonia", "ammonia"),
        ("NO2", "nitrite"),
        ("nitrite", "nitrite"),
        ("NO3", "nitrate"),
        ("nitrate", "nitrate"),
    ],
)
def test_a_quantity_may_be_called_by_any_of_its_names(name: str, quantity: Quantity) -> None:
    (found,) = read(f"tank,date,{name}", f"{A},2026-11-24,7")
    assert dict(found.values) == {quantity: pytest.approx(7)}


@pytest.mark.parametrize(
    ("header", "typed", "value"),
    [
        ("temperature (°F)", "77", 25),
        ("temp [F]", "77", 25),
        ("temp (c)", "25", 25),
        ("EC (mS/cm)", "0.3", 300),
        ("EC (µS/cm)", "300", 300),
        ("EC (uS/cm)", "300", 300),
        ("tds (g/L)", "0.2", 200),
        ("tds (ppm)", "200", 200),
        # A German degree is 17.848 mg/L of calcium carbonate.
        ("gh (mg/L)", "107.088", 6),
        ("gh (ppm)", "107.088", 6),
        ("KH (ppm)", "53.544", 3),
        ("KH (dH)", "3", 3),
        ("no3 (mg/L)", "5", 5),
        ("nitrite (ppm)", "0.1", 0.1),
    ],
)
def test_a_unit_in_the_header_is_brought_to_the_rooms_own(header: str, typed: str, value: float) -> None:
    assert one(header, typed) == pytest.approx(value, rel=1e-6)
    assert one(header, typed, Units(us=True, hardness_mg_per_litre=True)) == pytest.approx(value, rel=1e-6)


def test_without_a_unit_a_value_is_in_the_units_of_the_room() -> None:
    assert one("temp", "77", Units(us=True)) == pytest.approx(25)
    assert one("gh", "107.088", Units(hardness_mg_per_litre=True)) == pytest.approx(6, rel=1e-6)
    assert (one("temp", "25"), one("gh", "6"), one("tds", "150")) == (25, 6, 150)


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_cells_may_be_parted_by_commas_semicolons_or_tabs(separator: str) -> None:
    lines = (["tank", "date", "tds"], [A, "2026-11-24", "150"], [B, "2026-11-24", "180.5"])
    found = read(*(separator.join(line) for line in lines))
    assert [(each.line, each.tank, dict(each.values)) for each in found] == [
        (2, A, {"tds": 150}),
        (3, B, {"tds": 180.5}),
    ]


def test_a_decimal_comma_is_a_point_where_the_cells_are_not_parted_by_commas() -> None:
    assert one("ph", "6,5") == 6.5


@pytest.mark.parametrize(
    ("day", "clock", "on", "at"),
    [
        ("2026-11-24", "", date(2026, 11, 24), None),
        ("24.11.2026", "7:05", date(2026, 11, 24), "07:05"),
        ("2026-11-24", "19:30", date(2026, 11, 24), "19:30"),
        ("2026-11-24T08:15", "", date(2026, 11, 24), "08:15"),
        ("2026-11-24 08:15:30", "", date(2026, 11, 24), "08:15"),
        ("2026-11-24 08:15", "09:00", date(2026, 11, 24), "09:00"),
        (TODAY.isoformat(), "", TODAY, None),
    ],
)
def test_a_day_and_a_time_are_understood_as_they_are_usually_written(
    day: str, clock: str, on: date, at: str | None
) -> None:
    (found,) = read("tank;date;time;tds", f"{A};{day};{clock};150")
    assert (found.day, found.time) == (on, at)


def test_empty_lines_and_cells_are_left_out() -> None:
    found = read("tank,date,tds,ph", f"{A},2026-11-24,150,", ",,,", "", f"{A},2026-11-24,,6.5")
    assert [(each.line, dict(each.values)) for each in found] == [(2, {"tds": 150}), (5, {"ph": 6.5})]


@pytest.mark.parametrize(
    ("header", "fault"),
    [
        ("tank,tds", 'line 1: found "tank", "tds", allowed is a header with a column named date'),
        ("date,tds", 'line 1: found "date", "tds", allowed is a header with a column named tank'),
        ("tank,date,tds,TDS", 'line 1: found "tds" twice, allowed is once'),
        ("tank,date,temp,temperature", 'line 1: found "temperature" twice, allowed is once'),
        ("tank,date,tds (oz)", 'line 1: tds: found the unit "oz", allowed is mg/l or ppm or g/l'),
        ("tank,date,ph (mg/L)", 'line 1: ph: found the unit "mg/L", allowed is no unit'),
    ],
)
def test_what_is_wrong_with_a_header_is_said(header: str, fault: str) -> None:
    assert faults(header, f"{A},2026-11-24,150") == (fault,)


def test_a_header_with_an_unknown_name_or_no_quantity_says_what_is_allowed() -> None:
    (unknown,) = faults("tank,date,colour", f"{A},2026-11-24,3")
    assert unknown.startswith('line 1: found "colour", allowed are tank, date, time, temperature, conductivity')
    (nothing,) = faults("tank,date", f"{A},2026-11-24")
    assert nothing.startswith("line 1: found no quantity, allowed are temperature, conductivity, tds")
    (empty,) = faults("")
    assert empty == "line 1: found nothing, allowed is a header with a column named tank"


def test_every_faulty_line_is_named_and_one_fault_is_enough_for_no_readings() -> None:
    tomorrow = (TODAY + timedelta(days=1)).isoformat()
    lines = (
        "tank;date;time;tds",
        f"{A};2026-11-24;;150",
        "nowhere;2026-11-24;;150",
        f"{A};24/11/2026;;150",
        f"{A};{tomorrow};;150",
        f"{A};2026-11-24;25:00;150",
        f"{A};2026-11-24;;much",
        f"{A};2026-11-24;;-1",
        f"{A};2026-11-24;;100001",
        f"{A};2026-11-24;;",
        f"{A};2026-11-24",
        f"{A};1969-12-31;;150",
    )
    found = faults(*lines)
    assert found[1:] == (
        'line 4: date: found "24/11/2026", allowed is YYYY-MM-DD or DD.MM.YYYY',
        f'line 5: date: found "{tomorrow}", allowed is a day up to today, 2026-11-25',
        'line 6: time: found "25:00", allowed is HH:MM',
        'line 7: tds: found "much", allowed is a number with a point or a comma',
        'line 8: tds: found "-1", allowed is a TDS from 0 to 100000 mg/L',
        'line 9: tds: found "100001", allowed is a TDS from 0 to 100000 mg/L',
        "line 10: found no value, allowed is at least one",
        "line 11: found 2 cells, allowed are 4, as in the header",
        'line 12: date: found "1969-12-31", allowed is YYYY-MM-DD or DD.MM.YYYY',
    )
    assert found[0].startswith(f'line 3: tank: found "nowhere", allowed is a tank of the room: {A}, {B}')
    assert faults("tank,date,tds", f"{A},2026-11-24,much") == (
        'line 2: tds: found "much", allowed is a number with a point',
    )


def test_the_least_and_the_most_that_a_quantity_can_be_are_read() -> None:
    assert (one("ph", "0"), one("ph", "14"), one("tds", "100000")) == (0, 14, 100_000)


def test_a_file_has_so_many_lines_at_most(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(meter_file, "MOST_LINES", 3)
    line = f"{A},2026-11-24,150"
    assert len(read("tank,date,tds", line, line)) == 2
    assert faults("tank,date,tds", line, line, line) == ("line 4: found one line more, allowed are at most 3",)
