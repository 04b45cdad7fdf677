"""What is said of make-up water: amounts in the keeper's units, every case in a line of its own, cautions once."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.ledger import Reading, WaterAdded, What
from schedules.room import Room, Units
from schedules.room.water.rules import Band
from schedules.water.makeup import rack_make_up, tank_top_off
from schedules.water.makeup.cautions import SOURCES
from schedules.wording.water.amounts import band_text, grams_text, held_text, litres_text, minerals_text
from schedules.wording.water.cautions import CAUTIONS
from schedules.wording.water.make_up import make_up_lines
from schedules.wording.water.top_off import change_words, record_words, top_off_lines
from tests.water.makeup.worlds import TODAY, WATERS, history_with, room_with

METRIC, US = Units(), Units(us=True, hardness_mg_per_litre=True)
BAND = "bands = { tds = { low = 180, high = 220, daily = 15 } }"
ROOM = room_with(BAND)


def lines(room: Room, *entries: tuple[int, What], litres: float | None = None, drop: float | None = None) -> list[str]:
    need = tank_top_off(room, history_with(*entries), room.tanks["a"], TODAY, litres=litres, drop_mm=drop)
    return top_off_lines(room, need)


@pytest.mark.parametrize(
    ("litres", "metric", "us"),
    [(0.28, "280 mL", "0.07 gal"), (0.012, "12 mL", "0 gal"), (1.84, "1.8 L", "0.49 gal"), (0.999, "1 L", "0.26 gal")],
)
def test_litres_are_said_as_they_are_measured(litres: float, metric: str, us: str) -> None:
    """A US gallon is 3.785411784 L."""
    assert (litres_text(litres, METRIC), litres_text(litres, US)) == (metric, us)


def test_bands_minerals_and_grams_are_said_in_the_keepers_units() -> None:
    assert band_text("gh", Band(5, 7), METRIC) == "5 to 7 dGH"
    assert band_text("gh", Band(5, 7), US) == "89 to 125 mg/L"
    assert band_text("tds", Band(high=220), METRIC) == "at most 220 mg/L"
    assert band_text("tds", Band(low=180), METRIC) == "at least 180 mg/L"
    need = tank_top_off(ROOM, history_with((0, Reading("a", "gh", 6))), ROOM.tanks["a"], TODAY)
    assert minerals_text(need.now, METRIC) == "6 dGH"
    assert minerals_text(need.now, US) == "GH 107 mg/L"
    assert held_text(need.now._replace(gh=None), {}, METRIC) == "not known: TDS, GH and KH were never read"
    assert (grams_text(5.254), grams_text(0.0051)) == ("5.25 g", "5.1 mg")


@pytest.mark.parametrize(
    ("room", "entries", "asked", "said"),
    [
        (ROOM, (), {}, "how much is gone is not known: read TDS twice"),
        (ROOM, (), {"drop": 10}, "say the tank's inside"),
        (ROOM, (), {"litres": 30}, "more than half of the tank"),
        (ROOM, (), {"litres": 2}, "gone: 2 L"),
        (
            ROOM,
            ((7, Reading("a", "tds", 200)), (0, Reading("a", "tds", 210))),
            {},
            "gone: 1.9 L, give or take 540 mL, as TDS went from 200 to 210 mg/L since Fri 20 Nov",
        ),
        (ROOM, ((17, WaterAdded("a", 2)), (3, WaterAdded("a", 2))), {}, "about 430 mL, as is usual since Tue 24 Nov"),
        (ROOM, ((0, Reading("a", "tds", 260)),), {"litres": 2}, "still too high: topping off alone does not bring it"),
        (ROOM, ((0, Reading("a", "tds", 150)),), {"litres": 2}, "still too low"),
        (ROOM, ((0, Reading("a", "tds", 280)),), {"litres": 1}, "to come to TDS 220 mg/L: change "),
        (
            room_with("bands = { gh = { low = 12, high = 14 } }", top=""),
            ((0, Reading("a", "gh", 8)),),
            {"litres": 1},
            "to come to 12 dGH other water is needed",
        ),
    ],
)
def test_each_case_has_its_line(
    room: Room, entries: tuple[tuple[int, What], ...], asked: dict[str, float], said: str
) -> None:
    assert [line for line in lines(room, *entries, **asked) if said in line]


def test_what_builds_up_is_said_with_its_pace_its_day_and_the_change_that_holds_it() -> None:
    """2 L a week at 180 mg/L in 40 L are 9 a week, 38.6 in 30 days; 9 / (220 - 180) of 40 L are 9 L a week."""
    room = room_with(BAND, top=WATERS.replace("kh = 2", "kh = 2\ntop_off = true"))
    weeks = [(back, WaterAdded("a", 2, "mixed")) for back in (35, 28, 21, 14, 7, 0)]
    said = "\n".join(lines(room, (35, Reading("a", "tds", 160)), *weeks, litres=0.001))
    assert "built up since Fri 23 Oct, by 12 L poured in and nothing changed: TDS 54 mg/L" in said
    assert "at that pace in 30 days: TDS 39 mg/L" in said
    assert "passes TDS 220 mg/L about " in said
    assert "changing 9 L a week for the usual water keeps it at TDS 220 mg/L at most" in said


def test_every_caution_is_short_has_a_source_and_is_said_once() -> None:
    assert CAUTIONS.keys() == SOURCES.keys()
    assert all(len(text) <= 105 for text in CAUTIONS.values())
    room = room_with("bands = { gh = { low = 5, high = 7 } }", top="[[salts]]" + WATERS.partition("[[salts]]")[2])
    said = lines(room, (0, Reading("a", "gh", 3)), litres=2)
    assert sorted(line for line in said if line.startswith("caution")) == sorted(
        f"caution: {text}" for text in CAUTIONS.values()
    )
    assert [line for line in lines(ROOM, (0, Reading("a", "tds", 200)), litres=2) if line.startswith("caution")] == []


@given(st.floats(60, 320), st.floats(0.3, 9), st.booleans())
def test_the_words_that_record_add_up_to_todays_part(solids: float, litres: float, us: bool) -> None:
    room = replace(ROOM, units=Units(us=us))
    need = tank_top_off(room, history_with((0, Reading("a", "tds", solids))), room.tanks["a"], TODAY, litres=litres)
    words = record_words(room, need)
    assert need.pour is not None and words is not None
    volumes = [float(word.partition("=")[2]) for word in words.split() if "=" in word and "salt" not in word]
    assert sum(volumes) * (3.785411784 if us else 1) == pytest.approx(need.pour.days[0], abs=0.01)


def test_the_words_that_record_a_change_name_its_water_and_its_salts() -> None:
    room = room_with("bands = { gh = { low = 5, high = 7 } }", top="[[salts]]" + WATERS.partition("[[salts]]")[2])
    need = tank_top_off(room, history_with((0, Reading("a", "gh", 4))), room.tanks["a"], TODAY)
    words = change_words(room, need)
    assert words is not None
    tank, water, change, _, salt = words.split(" ")
    litres = float(water.removeprefix("pure="))
    assert (tank, change) == ("a", "--change")
    assert litres == pytest.approx(need.change_today, abs=1e-3)
    assert float(salt.removeprefix("gh-salt=")) == pytest.approx(0.2 * litres, abs=1e-3)
    assert change_words(room, tank_top_off(room, history_with(), room.tanks["a"], TODAY)) is None


def test_a_racks_list_says_what_is_spread_and_what_is_changed() -> None:
    room = room_with(BAND, BAND, "")
    history = history_with(
        *((7, Reading("a", "tds", 210)), (0, Reading("a", "tds", 240))),
        *((7, Reading("b", "tds", 280)), (0, Reading("b", "tds", 280))),
    )
    said = make_up_lines(room, rack_make_up(room, history, TODAY))
    assert "only today's part, as more would move the water too far: a" in said
    assert any(line.startswith("as a change, as much taken out before: b ") for line in said)
    assert "not known how much is gone: c" in said
