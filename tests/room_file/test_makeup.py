"""Waters, salts and insides as a room file gives them: units settled, compositions worked out."""

from __future__ import annotations

import json

import pytest

from schedules.room.data import room_data, room_from
from tests.room_file.rooms import room_of

MIXED = """\
[[waters]]
id = "mixed"
name = "Mixed"
tds = 180
conductivity = 280
gh = 6
kh = 2
ph = 6.8
top_off = true
"""


def test_a_water_is_kept_in_the_domains_units() -> None:
    water = room_of(top=MIXED).waters["mixed"]
    assert (water.name, water.tds, water.conductivity, water.gh, water.kh) == ("Mixed", 180, 280, 6, 2)
    assert (water.ph, water.top_off) == (6.8, True)


def test_hardness_in_mg_per_litre_becomes_degrees() -> None:
    """1 °dH is 17.848 mg/L as CaCO3."""
    room = room_of(top='hardness = "mg/L"\nwaters = [{ id = "tap", gh = 178.48 }]\n')
    assert room.waters["tap"].gh == pytest.approx(10)
    assert room.waters["tap"].name == "tap"


def test_a_salt_by_the_keepers_measure_does_per_gram_and_litre_what_was_measured() -> None:
    """20 g in 100 L raised GH by 6 and TDS by 190: one gram in one litre by 30 and 950."""
    room = room_of(top='salts = [{ id = "gh", measured = { grams = 20, water = 100, gh = 6, tds = 190 } }]\n')
    salt = room.salts["gh"]
    assert (salt.kh, salt.conductivity) == (0, None)
    assert salt.gh == pytest.approx(30)
    assert salt.tds == pytest.approx(950)
    assert salt.measured == {"gh", "tds"}


def test_a_salt_measured_in_gallons_and_mg_per_litre_does_the_same() -> None:
    """100 L are 26.4172 US gallons (3.785411784 L each), 6 degrees 107.088 mg/L."""
    measured = "{ grams = 20, water = 26.4172, gh = 107.088 }"
    room = room_of(top=f'units = "us"\nhardness = "mg/L"\nsalts = [{{ id = "gh", measured = {measured} }}]\n')
    assert room.salts["gh"].gh == pytest.approx(30, rel=1e-4)


def test_a_salt_of_which_only_solids_were_measured_raises_unknown_hardness() -> None:
    salt = room_of(top='salts = [{ id = "x", measured = { grams = 1, water = 10, tds = 80 } }]\n').salts["x"]
    assert (salt.gh, salt.kh) == (None, None)
    assert salt.tds == pytest.approx(800)


def test_a_salt_by_its_parts_raises_what_the_definition_of_a_degree_gives() -> None:
    """30.701 mg/L of gypsum and 35.706 mg/L of KHCO3 are one degree each (10 mg/L CaO)."""
    room = room_of(top='salts = [{ id = "x", parts = { "CaSO4·2H2O" = 50, KHCO3 = 50 } }]\n')
    assert room.salts["x"].gh == pytest.approx(500 / 30.701, rel=1e-3)
    assert room.salts["x"].kh == pytest.approx(500 / 35.706, rel=1e-3)
    assert room.salts["x"].measured == frozenset()


def test_what_was_measured_comes_before_what_the_parts_say() -> None:
    parts = 'parts = { "CaSO4.2H2O" = 100 }, measured = { grams = 10, water = 100, gh = 3 }'
    salt = room_of(top=f'salts = [{{ id = "x", {parts} }}]\n').salts["x"]
    assert salt.gh == pytest.approx(30)
    assert salt.conductivity is not None


@pytest.mark.parametrize(
    ("top", "inside", "area"),
    [
        ("", "inside = { length = 60, width = 30 }", 1800),
        ("", "inside = { height = 30 }", 1800),
        ("", "inside = { length = 60, width = 30, height = 25 }", 1800),
        ('units = "us"\n', "inside = { length = 20, width = 10 }", 200 * 6.4516),
        ('units = "us"\n', "inside = { height = 12 }", 54 * 231 / 12 * 6.4516),
    ],
)
def test_the_area_of_the_free_water_follows_from_the_inside(top: str, inside: str, area: float) -> None:
    """54 L at 30 cm are 1800 cm². A square inch is 6.4516 cm², a US gallon 231 cubic inches."""
    room = room_of(top=top, tank=f"volume = 54\n{inside}\n")
    assert room.tanks["moss"].footprint_cm2 == pytest.approx(area)


def test_a_tank_of_which_no_inside_is_said_has_no_area() -> None:
    assert room_of().tanks["moss"].footprint_cm2 is None


def test_the_canister_is_kept_in_litres() -> None:
    assert room_of(top="tools = { canister = 25 }\n").tools.canister_litres == 25
    assert room_of(top='units = "us"\ntools = { canister = 1 }\n').tools.canister_litres == pytest.approx(3.785411784)
    assert room_of().tools.canister_litres is None


def test_waters_and_salts_come_back_with_a_kept_room() -> None:
    room = room_of(
        top=f"salts = [{{ id = 'x', parts = {{ KHCO3 = 100 }} }}]\n{MIXED}",
        tank="volume = 54\ninside = { height = 30 }\n",
    )
    assert room_from(json.loads(json.dumps(room_data(room)))) == room
