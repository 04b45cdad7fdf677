"""The daily ration from its two sides, its lines, and what can be measured of it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.amounts.ration import daily_ration, measured, ration_steps, serving_amount, share_of, smallest_part
from schedules.amounts.ration.need import audience, needed_mg, warmth
from schedules.amounts.ration.steps import COMMON
from schedules.room import Appetite, Measure, Presence, Water
from schedules.room.units import gallons_from_litres, litres_from_gallons
from tests.amounts.rooms import TODAY, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
WAFER = make_feed("wafer", "staple")
FANFOOD = make_feed("fanfood", "suspension")
FEEDS = (DUST, WAFER, FANFOOD)


def test_the_smaller_side_is_the_ration() -> None:
    crowded = make_tank("a1", FEEDS, animals=(Presence("adult", 5000),))
    sparse = make_tank("a2", FEEDS, animals=(Presence("adult", 5),))
    assert daily_ration(crowded, WAFER, TODAY).mg == WAFER.label_mg_per_litre * 40
    assert daily_ration(sparse, WAFER, TODAY).mg == pytest.approx(5 * 37 * 0.04 * 0.75)


def test_the_lines_of_a_ration_end_in_the_ration_and_each_names_its_source() -> None:
    tank = make_tank("a1", FEEDS)
    steps = tuple(ration_steps(tank, WAFER, TODAY))
    assert steps[-1].value == daily_ration(tank, WAFER, TODAY).mg
    assert all(step.source for step in steps)
    assert any("40 adults" in step.text and "quoted at second hand" in step.source for step in steps)
    assert any(step.source == COMMON for step in steps)


def test_the_lines_can_be_worked_out_again_by_hand() -> None:
    tank = make_tank("a1", FEEDS, water=Water(temperature=24.0))
    # 40 adults of 37 mg at 4 %, 60 shrimplets of 0.5 mg at 7 %, a quarter grazed
    assert needed_mg(tank, WAFER, TODAY, Appetite()) == pytest.approx((40 * 37 * 0.04 + 60 * 0.5 * 0.07) * 0.75)


def test_the_keepers_own_ration_stands_in_place_of_the_animals_side_and_its_line_says_so() -> None:
    tank = make_tank("a1", FEEDS, ration_mg=12.5)
    assert daily_ration(tank, WAFER, TODAY).mg == 12.5
    assert any("set by the keeper" in step.text for step in ration_steps(tank, WAFER, TODAY))


def test_the_keepers_own_body_mass_counts_and_its_line_says_where_it_comes_from() -> None:
    tank = make_tank("a1", FEEDS)
    usual = Appetite()
    room = replace(make_room(FEEDS, tank), appetite=replace(usual, body_mg={**usual.body_mg, "adult": 20.0}))
    assert daily_ration(tank, WAFER, TODAY, room).mg < daily_ration(tank, WAFER, TODAY).mg
    assert any(step.value == 20.0 and step.source == "the room file" for step in ration_steps(tank, WAFER, TODAY, room))


def test_filter_feeders_and_the_others_do_not_eat_from_one_table() -> None:
    tank = make_tank("a1", FEEDS, animals=(Presence("adult", 10), Presence("filter_feeder", 4)))
    assert audience(FANFOOD) == {"filter_feeder"}
    assert needed_mg(tank, FANFOOD, TODAY, Appetite()) == pytest.approx(4 * 400 * 0.02 * 0.75)
    assert needed_mg(tank, WAFER, TODAY, Appetite()) == pytest.approx(10 * 37 * 0.04 * 0.75)


def test_ten_degrees_of_warmth_double_the_need_and_heat_beyond_26_degrees_adds_nothing() -> None:
    def at(celsius: float) -> float:
        return warmth(make_tank("a1", FEEDS, water=Water(temperature=celsius)), Appetite())

    assert at(24) == 1.0
    assert at(26) / at(16) == pytest.approx(2.0)
    assert at(31) == at(26)
    assert at(5) == at(16)


def test_a_tank_with_nobody_in_it_has_no_ration_and_anything_in_it_is_a_full_day() -> None:
    tank = make_tank("a1", FEEDS, animals=())
    assert daily_ration(tank, WAFER, TODAY).mg == 0
    assert share_of(tank, WAFER, 10, TODAY) == 1.0
    assert share_of(tank, WAFER, 0, TODAY) == 0.0


def test_the_share_of_a_whole_ration_is_one() -> None:
    tank = make_tank("a1", FEEDS)
    assert share_of(tank, DUST, daily_ration(tank, DUST, TODAY).mg, TODAY) == pytest.approx(1.0)


@pytest.mark.parametrize(("step", "part"), [(0.25, 0.25), (0.33, 1 / 3), (0.333, 1 / 3), (0.5, 0.5), (1.0, 1.0)])
def test_a_pellet_that_breaks_in_three_may_be_written_with_two_or_three_figures(step: float, part: float) -> None:
    assert smallest_part(Measure("pellet", 60, step)) == part


def test_three_thirds_are_a_whole_pellet() -> None:
    assert measured(60.0, Measure("pellet", 60, 0.33)) == pytest.approx(1.0)
    assert measured(59.9, Measure("pellet", 60, 0.33)) == pytest.approx(2 / 3)


@given(st.floats(0, 5000), st.sampled_from((0.25, 1 / 3, 0.5, 1.0, 2.0)), st.floats(1, 500))
def test_a_measured_amount_is_never_above_what_was_asked_and_less_than_a_part_below(
    mg: float, step: float, weighs: float
) -> None:
    measure = Measure("pellet", weighs, step)
    back = measured(mg, measure) * weighs
    assert back <= mg * (1 + 1e-6)
    assert mg - back <= step * weighs * (1 + 1e-6)


@given(st.floats(0.5, 500), st.floats(0.1, 5000), st.floats(0.5, 500))
def test_litres_and_gallons_measures_and_milligrams_go_there_and_back(litres: float, mg: float, weighs: float) -> None:
    assert litres_from_gallons(gallons_from_litres(litres)) == pytest.approx(litres)
    feed = replace(DUST, measure=Measure("spoon", weighs, 0.25))
    tank = make_tank("a1", (feed,), litres=litres)
    share = share_of(tank, feed, mg, TODAY)
    assert share * daily_ration(tank, feed, TODAY).mg == pytest.approx(mg)
    amount = serving_amount(tank, feed, feed.rules, TODAY)
    assert amount.measures * feed.measure.mg == pytest.approx(amount.mg)
