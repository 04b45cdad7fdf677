"""Rules of thumb held beside the defaults. All of it is common practice, no source."""

from __future__ import annotations

import pytest

from schedules.amounts.ration import remaining_amount, serving_amount
from schedules.formatting import method_text
from schedules.room import Appetite, Presence
from schedules.room.kinds import KIND_DEFAULTS, KINDS, is_fine
from tests.amounts.rooms import TODAY, Past, due, make_feed, make_room, make_tank

FIRST = make_feed("first", "powder", alone=1.0)
SECOND = make_feed("second", "biofilm")
WAFER = make_feed("wafer", "staple")
FEEDS = (FIRST, SECOND, WAFER)
TANK = make_tank("a1", FEEDS, animals=(Presence("adult", 200),))
ROOM = make_room(FEEDS, TANK)


def test_a_feed_new_to_the_tank_starts_at_half_of_a_full_feeding_day() -> None:
    full = serving_amount(TANK, FIRST, FIRST.rules, TODAY, alone=True)
    new = serving_amount(TANK, FIRST, FIRST.rules, TODAY, room=ROOM, history=Past().history(), alone=True)
    assert new.mg == pytest.approx(full.mg / 2, rel=0.01)


def test_a_second_fine_feed_on_a_day_gets_about_a_quarter_of_a_full_one() -> None:
    full = serving_amount(TANK, FIRST, FIRST.rules, TODAY, alone=True)
    beside = serving_amount(TANK, SECOND, SECOND.rules, TODAY)
    assert 0.2 <= beside.mg / full.mg <= 0.35


def test_after_a_fine_feed_that_took_most_of_the_day_only_a_quarter_measure_is_left() -> None:
    past = Past().posted(TODAY, (due("a1", SECOND, 0.75, 90),)).gave("a1", FIRST, TODAY, 0.75)
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][0], TODAY)
    assert left.amount.measures == pytest.approx(0.25)
    assert left.sentence == "30 mg in the mix: First already took 0.75 of today"


def test_solid_feed_is_cut_on_a_day_of_several_feeds() -> None:
    past = Past().posted(TODAY, (due("a1", WAFER, 1.0, 120),)).gave("a1", FIRST, TODAY, 0.3)
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][0], TODAY)
    assert left.amount.mg == 60
    assert all(KIND_DEFAULTS[kind].share < 1 for kind in KINDS)


def test_fan_filter_feeders_get_a_suspension_into_the_flow_in_two_goes_two_to_three_times_a_week() -> None:
    usual = KIND_DEFAULTS["suspension"]
    assert usual.stages == ("filter_feeder",)
    assert 2 <= usual.per_week <= 3
    assert "flow" in method_text(usual.method)
    assert "two goes" in method_text(usual.method)


def test_shrimplets_come_to_the_crumbling_mineral_feed_and_never_to_the_firm_pellet() -> None:
    assert "shrimplet" in KIND_DEFAULTS["mineral"].stages
    assert "shrimplet" not in KIND_DEFAULTS["staple"].stages
    assert KIND_DEFAULTS["mineral"].gone_after_hours > KIND_DEFAULTS["staple"].gone_after_hours


def test_every_fine_feed_for_shrimplets_is_premixed_by_default() -> None:
    assert all(KIND_DEFAULTS[kind].method in ("premixed", "flow") for kind in KINDS if is_fine(kind))


def test_a_shrimplet_weighs_what_its_length_allows() -> None:
    # From 2.3 mm at hatch (Nur and Christianus 2013) to 10 mm, beside an adult of 25 mm and 37 mg, by length cubed.
    mass = Appetite().body_mg
    assert mass["adult"] * (2.3 / 25) ** 3 < mass["shrimplet"] < mass["adult"] * (10 / 25) ** 3
    assert mass["shrimplet"] < mass["juvenile"] < mass["adult"]
