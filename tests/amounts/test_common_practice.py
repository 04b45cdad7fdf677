"""Rules of thumb held beside the defaults. All of it is common practice, no source."""

from __future__ import annotations

import pytest

from schedules.amounts.ration import remaining_amount, serving
from schedules.formatting import method_text
from schedules.room import Presence, Tools
from schedules.room.kinds import DRAWING, KIND_DEFAULTS, KINDS, is_fine
from tests.amounts.rooms import TODAY, Past, due, make_feed, make_room, make_tank

FIRST = make_feed("first", "powder")
SECOND = make_feed("second", "biofilm")
WAFER = make_feed("wafer", "staple")
FEEDS = (FIRST, SECOND, WAFER)
TANK = make_tank("a1", FEEDS, animals=(Presence("adult", 200), Presence("shrimplet", 200)))
ROOM = make_room(FEEDS, TANK)


def test_a_feed_new_to_the_tank_starts_at_half_of_a_full_feeding_day() -> None:
    full = serving(TANK, FIRST, 1.0, TODAY)
    new = serving(TANK, FIRST, 1.0, TODAY, room=ROOM, history=Past().history())
    assert new.mg == pytest.approx(full.mg / 2, rel=0.2)


def test_after_a_fine_feed_that_took_most_of_the_day_only_a_quarter_is_left() -> None:
    past = Past().posted(TODAY, (due("a1", SECOND, 0.75, 96),)).gave("a1", FIRST, TODAY, 0.75)
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][0], TODAY)
    assert left.amount.mg == pytest.approx(32)


def test_fan_filter_feeders_get_a_suspension_into_the_flow_in_two_goes() -> None:
    usual = KIND_DEFAULTS["suspension"]
    assert usual.stages == ("filter_feeder",)
    assert "flow" in method_text(usual.method)
    assert "two goes" in method_text(usual.method)


def test_shrimplets_come_to_the_crumbling_mineral_feed_and_never_to_the_firm_pellet() -> None:
    assert "shrimplet" in KIND_DEFAULTS["mineral"].stages
    assert "shrimplet" not in KIND_DEFAULTS["staple"].stages
    assert KIND_DEFAULTS["mineral"].gone_after_hours > KIND_DEFAULTS["staple"].gone_after_hours


def test_every_fine_feed_for_shrimplets_is_premixed_by_default() -> None:
    assert all(KIND_DEFAULTS[kind].method in ("premixed", "flow") for kind in KINDS if is_fine(kind))


def test_staples_and_protein_draw_the_adults_and_fifteen_to_twenty_share_a_piece() -> None:
    assert {"staple", "protein"} == DRAWING
    assert 15 <= Tools().adults_per_piece <= 20
