"""Servings: measurable, never above the ration, shrinking when the day already had its share."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.amounts.ration import (
    account,
    daily_ration,
    hold_on,
    measured,
    planning_rules,
    remaining_amount,
    serving_amount,
    share_of,
)
from schedules.ledger.entries import Leftovers
from schedules.room import Measure, Presence, Tools
from schedules.room.kinds import KINDS, Kind
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
WAFER = make_feed("wafer", "staple")
FEEDS = (DUST, WAFER)
TANK = make_tank("a1", FEEDS)
ROOM = make_room(FEEDS, TANK)


def test_a_solid_feed_is_rounded_down_to_what_breaks_off_and_the_loss_is_told() -> None:
    tank = make_tank("a1", FEEDS, animals=(Presence("adult", 70),))
    amount = serving_amount(tank, WAFER, WAFER.rules, TODAY)
    asked = daily_ration(tank, WAFER, TODAY).mg * WAFER.rules.share
    assert amount.measures == 0.5
    assert amount.mg == 30
    assert amount.lost_mg == pytest.approx(asked - 30)
    assert amount.share == pytest.approx(30 / daily_ration(tank, WAFER, TODAY).mg)


def test_a_fine_feed_goes_into_the_mix_and_loses_less_than_a_hundredth() -> None:
    amount = serving_amount(TANK, DUST, DUST.rules, TODAY)
    assert amount.mixed
    assert amount.lost_mg < 0.01 * amount.mg


def test_a_fine_feed_strewn_dry_is_measured_in_quarter_spoons_and_less_than_one_is_stirred_into_a_mix() -> None:
    strewn = make_feed("dust", "powder", method="surface")
    big = make_tank("a1", (strewn,), animals=(Presence("adult", 100),))
    assert serving_amount(big, strewn, strewn.rules, TODAY).measures == 0.25
    small = serving_amount(TANK, strewn, strewn.rules, TODAY)
    assert small.mixed
    assert "less than ¼ spoon" in small.note


def test_without_anything_to_mix_with_what_is_too_small_is_not_given_and_the_note_says_why() -> None:
    room = replace(ROOM, tools=Tools(syringes=(), cups=()))
    amount = serving_amount(TANK, DUST, DUST.rules, TODAY, room=room)
    assert (amount.mg, amount.measures) == (0.0, 0.0)
    assert "nothing to mix with" in amount.note


def test_a_piece_too_large_for_a_serving_is_planned_less_often_with_the_weeks_mass_unchanged() -> None:
    rules = planning_rules(TANK, WAFER, WAFER.rules, TODAY)
    full = daily_ration(TANK, WAFER, TODAY).mg
    assert rules.share == pytest.approx(30 / full)
    assert rules.per_week * 30 == pytest.approx(WAFER.rules.per_week * WAFER.rules.share * full)
    assert rules.max_gap > WAFER.rules.max_gap
    amount = serving_amount(TANK, WAFER, rules, TODAY)
    assert (amount.measures, amount.mixed) == (0.5, False)


def test_a_piece_above_the_whole_days_ration_is_ground_into_a_mix() -> None:
    tank = make_tank("a1", FEEDS, animals=(Presence("adult", 10),))
    rules = planning_rules(tank, WAFER, WAFER.rules, TODAY)
    assert rules == WAFER.rules
    amount = serving_amount(tank, WAFER, rules, TODAY)
    assert amount.mixed
    assert "ground into a mix" in amount.note


def test_a_feed_given_alone_may_take_more_where_its_rule_says_so() -> None:
    feed = make_feed("wafer", "staple", alone=0.9, share=0.3)
    tank = make_tank("a1", (feed,), animals=(Presence("adult", 200),))
    beside = serving_amount(tank, feed, feed.rules, TODAY)
    alone = serving_amount(tank, feed, feed.rules, TODAY, alone=True)
    assert alone.mg > beside.mg
    assert alone.mg <= daily_ration(tank, feed, TODAY).mg


def test_a_new_feed_gets_at_most_half_of_its_usual_serving() -> None:
    tank = make_tank("a1", FEEDS, animals=(Presence("adult", 200),))
    usual = serving_amount(tank, WAFER, WAFER.rules, TODAY)
    new = serving_amount(tank, WAFER, WAFER.rules, TODAY, room=ROOM, history=Past().history())
    assert 0 < new.mg <= usual.mg / 2


def test_most_left_holds_the_next_solid_feed_back_for_two_days_and_no_fine_one() -> None:
    past = Past().gave("a1", WAFER, days_ago(1), 0.6).saw("a1", WAFER, days_ago(1), "most")
    history = past.history()
    hold = hold_on(ROOM, history, "a1", WAFER, TODAY)
    assert hold is not None
    assert hold.until == TODAY + timedelta(days=1)
    assert hold_on(ROOM, history, "a1", DUST, TODAY) is None
    assert hold_on(ROOM, history, "a1", WAFER, hold.until) is None
    amount = serving_amount(TANK, WAFER, WAFER.rules, TODAY, room=ROOM, history=history)
    assert (amount.mg, amount.note) == (0.0, "held back: most of Wafer was left")


def test_a_later_clean_report_ends_the_hold() -> None:
    past = Past().gave("a1", WAFER, days_ago(1), 0.6).saw("a1", WAFER, days_ago(1), "most")
    past.saw("a1", WAFER, TODAY, "none")
    assert hold_on(ROOM, past.history(), "a1", WAFER, TODAY) is None


def test_the_account_ends_in_the_amount_and_its_lines_tell_of_share_level_and_loss() -> None:
    tank = make_tank("a1", FEEDS, animals=(Presence("adult", 200),))
    rules = replace(WAFER.rules, share=0.6)
    told = account(tank, WAFER, rules, TODAY, room=ROOM, history=Past().history())
    assert told.amount == serving_amount(tank, WAFER, rules, TODAY, room=ROOM, history=Past().history())
    assert told.steps[-1].value == told.amount.mg
    texts = " / ".join(step.text for step in told.steps)
    assert "share of the ration" in texts
    assert "new to this tank: half" in texts
    assert "rounded down by" in texts


def test_what_was_given_extra_shrinks_what_is_still_to_come_and_a_sentence_says_so() -> None:
    past = Past().posted(TODAY, (due("a1", WAFER, 0.6, 120),)).gave("a1", DUST, TODAY, 0.7, planned=False)
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][0], TODAY)
    assert left.amount.mg == 60
    assert left.amount.share == pytest.approx(0.3)
    assert left.sentence == "1 pellet: Dust already took 0.7 of today"


def test_a_day_that_already_had_its_ration_leaves_nothing() -> None:
    past = Past().posted(TODAY, (due("a1", WAFER, 0.6, 120),)).gave("a1", DUST, TODAY, 1.1, planned=False)
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][0], TODAY)
    assert (left.amount.mg, left.sentence) == (0.0, "nothing: Dust already took 1.1 of today")


def test_what_goes_as_planned_leaves_the_rest_as_it_was() -> None:
    past = Past().posted(TODAY, (due("a1", DUST, 0.3, 30), due("a1", WAFER, 0.6, 120))).gave("a1", DUST, TODAY, 0.3)
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][1], TODAY)
    assert (left.amount.mg, left.sentence) == (120, "")


def test_most_left_this_morning_leaves_nothing_of_a_solid_feed_due_today() -> None:
    past = Past().posted(TODAY, (due("a1", WAFER, 0.6, 120),)).gave("a1", WAFER, days_ago(1), 0.5)
    past.saw("a1", WAFER, TODAY, "most")
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][0], TODAY)
    assert (left.amount.mg, left.sentence) == (0.0, "nothing: most of Wafer was left")


reports = st.lists(st.sampled_from(("none", "some", "most", None)), max_size=6)


@settings(max_examples=150, deadline=None)
@given(
    kind=st.sampled_from(KINDS),
    share=st.floats(0.01, 1.0),
    weighs=st.floats(0.5, 400),
    step=st.sampled_from((0.25, 0.33, 0.5, 1.0)),
    heads=st.integers(0, 600),
    litres=st.floats(0.5, 500),
    said=reports,
    alone=st.booleans(),
)
def test_no_serving_is_above_its_ration_nor_unmeasurable(
    kind: Kind,
    share: float,
    weighs: float,
    step: float,
    heads: int,
    litres: float,
    said: list[Leftovers | None],
    alone: bool,
) -> None:
    feed = make_feed("feed", kind, share=share, measure=Measure("measure", weighs, step), alone=share * 1.5)
    tank = make_tank("a1", (feed,), litres=litres, animals=(Presence("adult", heads), Presence("filter_feeder", 3)))
    room = make_room((feed,), tank)
    past = Past()
    for number, report in enumerate(said):
        past.gave("a1", feed, days_ago(3 * (len(said) - number)), share)
        if report is not None:
            past.saw("a1", feed, days_ago(3 * (len(said) - number)), report)
    history = past.history()
    rules = planning_rules(tank, feed, feed.rules, TODAY, room=room, history=history)
    amount = serving_amount(tank, feed, rules, TODAY, room=room, history=history, alone=alone)
    full = daily_ration(tank, feed, TODAY, room).mg
    assert 0 <= amount.mg <= full * (1 + 1e-9)
    assert 0 <= amount.share <= 1
    assert amount.share == pytest.approx(share_of(tank, feed, amount.mg, TODAY, room), abs=1e-9)
    assert alone or amount.share <= rules.share * (1 + 1e-9)
    assert amount.mixed or measured(amount.mg * (1 + 1e-12), feed.measure) == pytest.approx(amount.measures)


@settings(max_examples=100, deadline=None)
@given(
    given_shares=st.lists(st.floats(0, 0.9), max_size=4),
    shares=st.lists(st.floats(0.05, 0.6), min_size=1, max_size=2),
)
def test_what_remains_never_takes_a_day_over_its_ration(given_shares: list[float], shares: list[float]) -> None:
    past = Past().posted(TODAY, tuple(due("a1", feed, share, 100) for feed, share in zip(FEEDS, shares, strict=False)))
    for number, share in enumerate(given_shares):
        past.gave("a1", make_feed(f"extra{number}", "greens"), TODAY, share, planned=False)
    total = 0.0
    for posted in past.postings[0].days[0]:
        left = remaining_amount(ROOM, past.history(), posted, TODAY).amount
        assert left.mg <= posted.amount_mg
        total += left.share
    assert total <= max(1.0 - sum(given_shares), 0.0) + 1e-6 or total <= sum(shares) <= 1 - sum(given_shares) + 1e-6
