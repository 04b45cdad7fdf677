"""What one tank needs: which water, how much, in how many days, which change, what builds up."""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.ledger import Reading, SaltAdded, WaterAdded, WaterChanged, What
from schedules.room import Room
from schedules.water.makeup.minerals import Dissolved, Minerals, TankWater
from schedules.water.makeup.tank import TopOff, tank_top_off
from tests.water.makeup.worlds import TODAY, WATERS, history_with, room_with

BAND = "bands = { tds = { low = 180, high = 220, daily = 15 } }"
ROOM = room_with(BAND + "\ninside = { length = 50, width = 40 }")


def need(room: Room, *entries: tuple[int, What], drop: float | None = None, litres: float | None = None) -> TopOff:
    return tank_top_off(room, history_with(*entries), room.tanks["a"], TODAY, drop_mm=drop, litres=litres)


def test_a_tank_that_only_evaporated_gets_pure_water_and_is_where_it_was() -> None:
    """200 mg/L in 40 L less 2 L are 210.526; 2 L of pure water bring back 200."""
    found = need(ROOM, (7, Reading("a", "tds", 200)), (0, Reading("a", "tds", 210.526)))
    assert found.lost is not None and found.pour is not None
    ((water, litres),) = found.pour.parts
    assert (water.source, water.grams) == (None, ())
    assert litres == pytest.approx(2, abs=1e-3)
    assert found.pour.after.tds == pytest.approx(200)
    assert (found.change, found.cautions, len(found.pour.days)) == (None, (), 1)


def test_a_tank_that_was_diluted_gets_as_much_mineralised_water_as_its_band_asks_for() -> None:
    """188 mg/L in 38 L are 7144 mg: to have 180 in 40 L takes 56 mg more, out of water at 180 mg/L."""
    found = need(ROOM, (0, Reading("a", "tds", 188)), litres=2)
    assert found.pour is not None
    assert found.pour.reach == "reached"
    assert found.pour.target == 180
    assert found.pour.after.tds == pytest.approx(180)
    rich = {water.source: litres for water, litres in found.pour.parts}
    assert sum(rich.values()) == pytest.approx(2)
    assert rich["mixed"] * 180 == pytest.approx(40 * 180 - 38 * 188)


def test_salts_make_the_mineralised_water_where_the_room_names_no_such_water() -> None:
    """20 g in 100 L raise GH by 6: for GH 6 in pure water 0.2 g/L, which is 190 mg/L."""
    salts = "[[salts]]" + WATERS.partition("[[salts]]")[2]
    room = room_with("bands = { tds = { low = 180, high = 220 }, gh = { low = 5, high = 7 } }", top=salts)
    found = need(room, (0, Reading("a", "tds", 186)), litres=2)
    assert found.pour is not None
    rich = next(water for water, _ in found.pour.parts if water.grams)
    assert dict(rich.grams) == {"gh-salt": pytest.approx(0.2)}
    assert rich.minerals.tds == pytest.approx(190)
    assert found.pour.after.tds == pytest.approx(180)
    assert found.cautions == ("sheets", "copper", "acid_and_lye")


def test_the_usual_water_is_poured_as_long_as_the_tank_stays_in_its_band() -> None:
    room = room_with(BAND, top=WATERS.replace("kh = 2", "kh = 2\ntop_off = true"))
    found = need(room, (0, Reading("a", "tds", 200)), litres=2)
    assert found.pour is not None
    ((water, _),) = found.pour.parts
    assert water.source == "mixed"
    assert found.pour.after.tds == pytest.approx((38 * 200 + 2 * 180) / 40)


def test_without_bands_or_readings_the_usual_water_is_poured_and_nothing_is_promised() -> None:
    found = need(room_with(""), litres=2)
    assert found.pour is not None
    assert found.pour.quantity is None
    assert found.pour.after == Minerals()


def test_what_pure_water_holds_can_be_said_in_the_room_file() -> None:
    room = room_with(BAND, top='[[waters]]\nid = "pure"\ntds = 10\n')
    found = need(room, (0, Reading("a", "tds", 205)), litres=2)
    assert found.pour is not None
    assert found.pour.after.tds == pytest.approx((38 * 205 + 2 * 10) / 40)


def test_a_fall_of_the_level_needs_the_tanks_inside() -> None:
    with_inside = need(ROOM, (0, Reading("a", "tds", 210)), drop=10)
    assert with_inside.lost is not None
    assert with_inside.lost.loss.litres == pytest.approx(50 * 40 * 1 / 1000)
    without = need(room_with(BAND), (0, Reading("a", "tds", 210)), drop=10)
    assert (without.lost, without.unknown, without.pour) == (None, "no_area", None)


def test_nothing_known_and_too_much_lost_are_said_and_nothing_is_poured() -> None:
    assert need(ROOM).unknown == "no_readings"
    much = need(ROOM, (0, Reading("a", "tds", 210)), litres=21)
    assert (much.unknown, much.pour) == ("too_much", None)


def test_a_long_way_back_is_poured_in_over_days() -> None:
    """240 mg/L in 34 L fall to 204 in 40 L: 36 by at most 15 a day are three days."""
    found = need(ROOM, (0, Reading("a", "tds", 240)), litres=6)
    assert found.pour is not None
    assert len(found.pour.days) == 3
    assert sum(found.pour.days) == pytest.approx(6)


def test_a_tank_above_its_band_is_brought_down_by_changes_within_the_daily_swing() -> None:
    found = need(ROOM, (0, Reading("a", "tds", 280)), litres=0)
    assert found.pour is None
    change = found.change
    assert change is not None and change.plan is not None and change.water is not None
    assert (change.quantity, change.target) == ("tds", 220)
    solids = [each.tds or 0 for each in change.plan.after]
    assert solids[-1] == pytest.approx(220)
    assert all(0 < a - b <= 15 for a, b in pairwise(solids))
    assert found.cautions == ("wet_hands",)


def test_a_change_that_would_spoil_the_hardness_is_left_for_one_that_does_not() -> None:
    """Pure water would take the fewest litres, but takes GH below its band; water at 180 mg/L and GH 6 does not."""
    room = room_with("bands = { tds = { low = 180, high = 220, daily = 15 }, gh = { low = 5.9, high = 7 } }")
    found = need(room, (0, Reading("a", "tds", 280)), (0, Reading("a", "gh", 6)), litres=0)
    assert found.change is not None and found.change.water is not None
    assert found.change.water.source == "mixed" or found.change.water.grams
    assert need(ROOM, (0, Reading("a", "tds", 280)), litres=0).change is not None


def test_where_no_water_leads_to_the_band_that_is_said() -> None:
    room = room_with("bands = { gh = { low = 12, high = 14 } }", top='[[waters]]\nid = "mixed"\ngh = 6\n')
    found = need(room, (0, Reading("a", "gh", 8)), litres=0)
    assert found.change is not None
    assert (found.change.target, found.change.water, found.change.plan) == (12, None, None)


def test_a_reading_before_the_last_top_off_counts_with_what_was_poured_in_since() -> None:
    """220 mg/L read in 38 L, then 2 L of pure water: 209 in the full tank, and 220 again once 2 L are gone."""
    found = need(ROOM, (1, Reading("a", "tds", 220)), (1, WaterAdded("a", 2)), litres=2)
    assert found.now.tds == pytest.approx(220)


@given(st.floats(150, 300), st.floats(0.5, 8))
def test_what_is_promised_after_pouring_is_what_the_balance_of_masses_gives(solids: float, litres: float) -> None:
    found = need(ROOM, (0, Reading("a", "tds", solids)), litres=litres)
    assert found.pour is not None
    mass = (40 - litres) * solids + sum(part * (water.minerals.tds or 0) for water, part in found.pour.parts)
    assert sum(part for _, part in found.pour.parts) == pytest.approx(litres)
    assert found.pour.after.tds == pytest.approx(mass / 40)
    after = found.pour.after.tds or 0
    assert (found.pour.reach == "too_high") == (after > 220 + 1e-6)
    assert (found.pour.reach == "too_low") == (after < 180 - 1e-6)


# What builds up: 2 L a week of water at 180 mg/L and GH 6 in 40 L are 9 mg/L and 0.3 degrees a week.

WEEKS = tuple((back, WaterAdded("a", 2, "mixed")) for back in (35, 28, 21, 14, 7, 0))


def test_a_tank_that_is_only_topped_off_shows_what_stays_behind() -> None:
    found = need(ROOM, (35, Reading("a", "tds", 185)), *WEEKS, litres=0)
    build_up = found.build_up
    assert build_up is not None and build_up.monthly is not None
    assert build_up.litres == 12
    assert build_up.since == TODAY - timedelta(days=35)
    assert build_up.rise.tds == pytest.approx(6 * 9)
    assert build_up.monthly.tds == pytest.approx(9 / 7 * 30)
    assert build_up.monthly.gh == pytest.approx(0.3 / 7 * 30)


def test_the_day_on_which_it_leaves_its_band_and_the_change_that_holds_it_follow() -> None:
    """Of the six fillings the first made up for the days before; five raise 175.75 by 45 to the full tank's last value.

    Read in 38 L at 185, it holds (38 × 185 + 2 × 180) / 40 = 184.75 after the first, 229.75 after the last: out of its
    band on the day. The mixed water holds 180: a weekly part x settles at 180 + 9 / x, within 220 for x = 0.225.
    """
    found = need(ROOM, (35, Reading("a", "tds", 185)), *WEEKS, litres=0)
    assert found.build_up is not None
    assert found.now.tds == pytest.approx(229.75)
    assert found.build_up.leaves == {"tds": TODAY}
    room = room_with(BAND, top=WATERS.replace("kh = 2", "kh = 2\ntop_off = true"))
    weekly = need(room, (35, Reading("a", "tds", 185)), *WEEKS, litres=0).build_up
    assert weekly is not None
    part = weekly.weekly["tds"]
    assert part == pytest.approx(9 / 40)
    tank, before = TankWater(40, Minerals(200.0)), None
    for _ in range(300):
        tank = tank.evaporated(2).poured(2, Minerals(180.0))
        before = tank.minerals.tds
        tank = tank.changed(part * 40, Minerals(180.0))
    assert before == pytest.approx(220)


def test_after_a_change_of_water_the_count_begins_again_and_salts_count_too() -> None:
    entries = (*WEEKS[:3], (20, WaterChanged("a", 10, "mixed")), *WEEKS[3:], (0, SaltAdded("a", "gh-salt", 4)))
    build_up = need(ROOM, *entries, litres=0).build_up
    assert build_up is not None
    assert build_up.litres == 6
    assert build_up.rise.gh == pytest.approx(3 * 0.3 + 4 * 30 / 40)
    assert build_up.rise.kh == pytest.approx(3 * 2 * 2 / 40)


def test_a_fortnight_is_needed_for_a_pace_and_nothing_poured_builds_up_nothing() -> None:
    short = need(ROOM, (7, WaterAdded("a", 2, "mixed")), (0, WaterAdded("a", 2, "mixed")), litres=0).build_up
    assert short is not None and short.monthly is None
    assert need(ROOM, (7, Reading("a", "tds", 200)), litres=0).build_up is None
    assert need(ROOM, (7, WaterChanged("a", 5)), litres=0).build_up is None


def test_what_was_topped_off_on_a_later_day_than_the_reading_had_gone_since() -> None:
    """200 mg/L read in the full tank, 2 L made up with pure water a day later: 200 again, 210.5 with 2 L gone."""
    found = need(ROOM, (2, Reading("a", "tds", 200)), (1, WaterAdded("a", 2)), litres=2)
    assert found.now.tds == pytest.approx(200 * 40 / 38)


def test_bands_and_waters_by_conductivity_count_as_solids_by_the_rooms_factor() -> None:
    """360 to 440 µS/cm are 180 to 220 mg/L at 0.5, and water at 300 µS/cm holds 150."""
    top = '[[waters]]\nid = "mixed"\nconductivity = 300\ntop_off = true\n'
    found = need(room_with("bands = { conductivity = { low = 360, high = 440 } }", top=top), litres=2)
    assert (found.bands["tds"].low, found.bands["tds"].high) == (180, 220)
    assert found.pour is not None
    assert found.pour.parts[0][0].minerals.tds == 150


def test_pure_water_named_as_the_usual_one_is_still_pure() -> None:
    found = need(room_with(BAND, top='[[waters]]\nid = "pure"\ntds = 10\ntop_off = true\n'), litres=2)
    assert found.pour is not None
    assert found.pour.parts[0][0].source is None


def test_the_day_of_leaving_counts_from_the_tank_as_it_is_after_topping_off() -> None:
    """142 mg/L after the first filling, five more of 9 mg/L: 187 in the full tank, 208 with 4 L gone.

    At 45 mg/L in 35 days the 33 up to 220 take 25.7 days; from 208 it would be 9.
    """
    found = need(ROOM, (35, Reading("a", "tds", 140)), *WEEKS, litres=4)
    assert found.now.tds == pytest.approx(187 * 40 / 36)
    assert found.build_up is not None
    assert found.build_up.leaves == {"tds": TODAY + timedelta(days=25)}


def test_of_two_waters_the_one_that_takes_fewer_days_is_changed_for_though_it_takes_more_of_it() -> None:
    """From 280 to 220 mg/L pure water takes GH 6 down by 1.3 degrees, at 0.1 a day; mixed water of GH 6 leaves it."""
    gentle = "gh = { low = 4, high = 7, daily = 0.1 }"
    room = room_with(f"bands = {{ tds = {{ low = 180, high = 220, daily = 15 }}, {gentle} }}")
    found = need(room, (0, Reading("a", "tds", 280)), (0, Reading("a", "gh", 6)), litres=0)
    assert found.change is not None and found.change.water is not None and found.change.plan is not None
    assert found.change.water.source == "mixed"
    assert len(found.change.plan.parts) < 1.3 / 0.1
    assert sum(found.change.plan.parts) > 60 / 280 * 1.1


@pytest.mark.parametrize(
    ("quantity", "band", "read", "swing", "off"),
    [("tds", "low = 180, high = 220, daily = 15", 280, 15, 280 * 0.01), ("gh", "low = 5, high = 7", 12, 1, 0.5)],
)
def test_the_first_change_keeps_to_the_swing_though_meter_or_drops_and_jug_are_off(
    quantity: Dissolved, band: str, read: float, swing: float, off: float
) -> None:
    """The tank holds one percent more solids than read, or half a drop of a degree; a twentieth more is changed."""
    room = room_with(f"bands = {{ {quantity} = {{ {band} }} }}", top="")
    found = need(room, (0, Reading("a", quantity, read)), litres=0)
    assert found.change is not None and found.change.plan is not None
    first = found.change.plan.parts[0]
    assert first * 1.05 * (read + off) <= swing * (1 + 1e-9)
    assert first * 1.05 * (read + off) == pytest.approx(swing)
