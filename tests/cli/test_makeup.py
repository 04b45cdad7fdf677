"""The commands for make-up water: what they print, record and refuse."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Rackround

WATER = """
[[waters]]
id = "mixed"
name = "Mixed water"
tds = 180
gh = 6
kh = 0
made = true

[[salts]]
id = "gh-salt"
name = "Own salt"
measured = { grams = 20, water = 100, gh = 6, tds = 190 }
"""
A1 = """inside = { length = 60, width = 30 }
bands = { tds = { low = 160, high = 220, daily = 15 } }
water = { tds = 205 }
"""


@pytest.fixture(name="watered")
def _watered(room: Path) -> Path:
    text = room.read_text(encoding="utf-8")
    room.write_text(text.replace('id = "a1"\n', f'id = "a1"\n{A1}') + WATER, encoding="utf-8")
    return room


def test_a_fall_of_the_level_becomes_litres_a_water_and_the_words_that_record_it(
    watered: Path, rackround: Rackround
) -> None:
    """1 cm in 60 × 30 cm is 1.8 L; 205 mg/L in 58.2 L are 198.85 in 60 L."""
    lines = rackround("topoff", "a1", "--drop", "10").out.splitlines()
    assert lines[1:] == [
        "  gone: 1.8 L, give or take 180 mL, by the level",
        "  holds now: TDS 205 mg/L (160 to 220 mg/L)",
        "  pour in: 1.8 L of pure water",
        "  holds then: TDS 199 mg/L (160 to 220 mg/L)",
        f"  once poured in: rackround pour {watered} a1 pure=1.8",
    ]


@pytest.mark.parametrize(
    ("words", "litres"),
    [(("--drop", "0.5in"), 60 * 30 * 1.27 / 1000), (("--gallons", "1"), 3.785411784), (("--litres", "2,5"), 2.5)],
)
@pytest.mark.usefixtures("watered")
def test_what_is_gone_may_be_said_in_inches_gallons_and_with_a_comma(
    rackround: Rackround, words: tuple[str, str], litres: float
) -> None:
    assert rackround("topoff", "a1", *words, "--json").data["lost"]["litres"] == pytest.approx(litres)


@pytest.mark.usefixtures("watered")
def test_what_was_really_poured_in_is_one_act_that_one_undo_takes_back(rackround: Rackround) -> None:
    poured = rackround("pour", "a1", "pure=1.5", "mixed=0.3", "--salt", "gh-salt=0.2", "--on", "2026-11-24")
    assert poured.out == "a1: poured in: 1.5 L of pure water, 0.3 L of Mixed water, 0.2 g of Own salt\n"
    assert rackround("topoff", "a1", "--litres", "1", "--json").data["built_up"]["litres"] == pytest.approx(1.8)
    assert rackround("undo").code == 0
    assert rackround("topoff", "a1", "--litres", "1", "--json").data["built_up"] is None


@pytest.mark.usefixtures("watered")
def test_a_change_is_recorded_for_one_water(rackround: Rackround) -> None:
    assert rackround("pour", "a1", "mixed=6", "--change").out == "a1: changed for 6 L of Mixed water\n"
    assert rackround("pour", "a1", "mixed=6", "pure=1", "--change").code == 2


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("pour", "a1"), 2, "nothing to record"),
        (("pour", "a1", "mixd=1"), 2, 'did you mean "mixed"'),
        (("pour", "a1", "pure=1", "--salt", "gh=1"), 2, 'no salt "gh" in this room'),
        (("pour", "a1", "pure"), 2, "is not NAME=NUMBER"),
        (("pour", "a1", "pure=none"), 2, "is not a number"),
        (("pour", "a1", "pure=40"), 3, "more than is poured in at once"),
        (("pour", "a1", "pure=1", "--salt", "gh-salt=900"), 3, "is more than"),
        (("pour", "a1", "pure=1", "--on", "2026-12-24"), 3, "lies ahead"),
        (("makeup", "--rack", "lef"), 2, 'did you mean "left"'),
        (("topoff", "a9"), 2, 'no tank "a9"'),
        (("topoff", "a1", "--drop", "0"), 2, "is not a number above 0"),
    ],
)
@pytest.mark.usefixtures("watered")
def test_what_cannot_be_is_refused_in_words(rackround: Rackround, words: tuple[str, ...], code: int, said: str) -> None:
    answer = rackround(*words)
    assert (answer.code, said in answer.err) == (code, True), answer.err


@pytest.mark.usefixtures("watered")
def test_an_unusual_amount_is_recorded_where_the_keeper_insists(rackround: Rackround) -> None:
    assert rackround("pour", "a1", "pure=40", "--anyway").code == 0


def test_a_room_in_gallons_records_gallons_and_prints_them(watered: Path, rackround: Rackround) -> None:
    """60 gal are 227.1 L; 2 gal of them 7.57 L."""
    text = watered.read_text(encoding="utf-8")
    watered.write_text(text.replace("[[keepers]]", 'units = "us"\n[[keepers]]', 1), encoding="utf-8")
    assert rackround("pour", "a1", "mixed=2").out == "a1: poured in: 2 gal of Mixed water\n"
    answer = rackround("topoff", "a1", "--gallons", "2")
    assert "gone: 2 gal" in answer.out
    assert answer.out.rstrip().endswith("a1 pure=2")
    built_up = rackround("topoff", "a1", "--gallons", "2", "--json").data["built_up"]
    assert built_up["litres"] == pytest.approx(7.570823568)


@pytest.mark.usefixtures("watered")
def test_much_water_is_spread_over_days_and_needs_no_caution(rackround: Rackround) -> None:
    """205 mg/L in 53 L fall to 181 in 60: 24 by at most 15 a day are two days."""
    answer = rackround("topoff", "a1", "--litres", "7").out
    assert "spread over 2 days" in answer
    assert answer.count("caution:") == 0


@pytest.mark.usefixtures("watered")
def test_a_tank_of_which_nothing_was_read_gets_no_advice(rackround: Rackround) -> None:
    data = rackround("topoff", "a2", "--json").data
    assert (data["lost"], data["unknown"], data["pour"]) == (None, "no_readings", None)


def test_a_racks_list_names_salts_tanks_and_what_is_not_known(watered: Path, rackround: Rackround) -> None:
    """GH 4 to 5 by at most one degree a day with water at GH 6: a change of half the distance, with grams by GH."""
    text = watered.read_text(encoding="utf-8")
    bands = 'id = "a2"\nbands = { gh = { low = 5, high = 7 } }\nwater = { gh = 4 }\n'
    watered.write_text(text.replace('id = "a2"\n', bands), encoding="utf-8")
    answer = rackround("makeup", "--rack", "left").out
    assert answer.startswith("make-up water for Left rack\n  batch 1: ")
    assert " of Mixed water, " in answer
    assert " g of Own salt, the scale good to " in answer
    assert "not known how much is gone: a1, a2" in answer
    assert answer.count("caution:") == 4


@pytest.mark.usefixtures("watered")
def test_a_rack_of_which_nothing_is_known_makes_nothing(rackround: Rackround) -> None:
    lines = rackround("makeup").out.splitlines()
    assert lines == ["make-up water for Two shelves", "  nothing to make", "  not known how much is gone: a1, a2"]
