"""Servings: what a hand can measure, rounded once, never nothing; shrinking when the day already had its part."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.amounts.ration import (
    account,
    by_volume,
    daily_ration,
    draw_off,
    given_part,
    hold_on,
    in_hand,
    piece_rule,
    remaining_amount,
    serving,
    share_of,
)
from schedules.amounts.ration.account import account_of_day
from schedules.amounts.ration.hand import Hand, class_error, dose_class, dry_mg, smallest_mg, smallest_part
from schedules.ledger.entries import Leftovers, PostedServing
from schedules.room import Measure, Presence, Tools
from schedules.room.kinds import KINDS, Kind
from schedules.wording.amounts import draw_off_text, remaining_text, step_text
from schedules.wording.hand import dry_text, hand_text
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder", known=True)
WAFER = make_feed("wafer", "staple", known=True)
CHIP = make_feed("chip", "mineral", known=True, measure=Measure("crumb", 20.0, 0.5))
LEAF = make_feed("leaf", "greens", extra=True, measure=Measure("leaf", 400.0, 1.0))
FEEDS = (DUST, WAFER, CHIP, LEAF)
TANK = make_tank("a1", FEEDS)
ROOM = make_room(FEEDS, TANK)
MANY = make_tank("a1", FEEDS, animals=(Presence("adult", 200),))
USUAL = Tools()


def test_a_solid_feed_is_given_in_the_nearest_parts_that_break_off() -> None:
    amount = serving(TANK, WAFER, 1.0, TODAY)
    ration = daily_ration(TANK, WAFER, TODAY).mg
    assert abs(amount.mg - ration) <= 15
    assert amount.measures * 2 == round(amount.measures * 2)
    assert amount.rounded_mg == pytest.approx(amount.mg - ration)


@pytest.mark.parametrize(
    ("step", "mg", "given"),
    [(1.0, 85, 60), (1.0, 91, 120), (0.5, 44, 30), (0.5, 46, 60), (0.25, 52, 45), (0.33, 32, 40), (1.0, 3, 60)],
)
def test_rounding_goes_to_the_nearest_part_and_never_to_nothing(step: float, mg: float, given: float) -> None:
    assert dry_mg(replace(WAFER, measure=Measure("pellet", 60.0, step)), mg, USUAL) == pytest.approx(given)


def test_more_than_ten_pieces_are_weighed_where_there_is_a_scale() -> None:
    assert dry_mg(WAFER, 604, USUAL) == 600
    assert in_hand(WAFER, 640, USUAL) == Hand(0.64, "gram", "pellet")
    assert dry_mg(WAFER, 646, USUAL) == 650
    assert dry_mg(WAFER, 601, USUAL) == 600
    tiny = replace(WAFER, measure=Measure("crumb", 2.0, 0.5))
    assert in_hand(tiny, dry_mg(tiny, 31, USUAL), USUAL) == Hand(16, "measure", "crumb")
    without = replace(USUAL, scale_mg=None)
    assert dry_mg(WAFER, 646, without) == 660
    assert in_hand(WAFER, 660, without) == Hand(11, "measure", "pellet")


def test_below_a_quarter_of_a_piece_that_crumbles_crumbs_are_counted() -> None:
    crumbling = replace(WAFER, breaks="crumb", measure=Measure("wafer", 60.0, 0.1))
    assert hand_text(in_hand(crumbling, dry_mg(crumbling, 11, USUAL), USUAL)) == "2 crumbs of wafer"
    assert hand_text(in_hand(crumbling, dry_mg(crumbling, 1, USUAL), USUAL)) == "1 crumb of wafer"
    assert in_hand(crumbling, 30, USUAL).unit == "measure"


def test_powder_too_little_for_the_spoon_lies_on_its_tip() -> None:
    strewn = make_feed("dust", "powder", method="surface", known=True)
    assert in_hand(strewn, dry_mg(strewn, 12, USUAL), USUAL) == Hand(2, "spoon_tip", "spoon")
    assert in_hand(strewn, dry_mg(strewn, 28, USUAL), USUAL) == Hand(0.25, "measure", "spoon")


def test_plain_mode_says_no_milligrams_and_gives_the_same_mass() -> None:
    plain = replace(USUAL, plain=True, scale_mg=None)
    assert dry_text(WAFER, 30, plain) == "½ pellet"
    assert dry_text(WAFER, 30, USUAL) == "½ pellet (30 mg)"
    assert dry_mg(WAFER, 44, plain) == dry_mg(WAFER, 44, USUAL)
    assert dry_text(WAFER, 720, plain) == "12 pellets"


def test_a_fine_feed_is_rounded_to_a_dose_class_within_an_eighth() -> None:
    amount = serving(TANK, DUST, 1.0, TODAY)
    ration = daily_ration(TANK, DUST, TODAY).mg
    assert amount.mixed
    assert amount.mg == pytest.approx(ration, rel=0.125)


@given(st.floats(0.01, 10_000))
def test_dose_classes_are_four_to_an_octave_and_never_off_by_more_than_they_say(mg: float) -> None:
    got = dose_class(mg, USUAL.doses_ml)
    assert abs(got - mg) / mg <= class_error(USUAL.doses_ml) + 1e-9
    assert class_error(USUAL.doses_ml) == pytest.approx(1 / 9)
    octave = got
    while octave < 4:
        octave *= 2
    while octave >= 8:
        octave /= 2
    assert octave in (4, 5, 6, 7)
    assert dose_class(got, USUAL.doses_ml) == got


def test_a_dose_class_is_not_rounded_up_over_the_most_the_water_may_take() -> None:
    assert dose_class(13.5, USUAL.doses_ml) == 14
    assert dose_class(13.5, USUAL.doses_ml, 13.5) == 12


def test_without_anything_to_mix_with_powder_is_given_dry_and_never_as_nothing() -> None:
    room = replace(ROOM, tools=Tools(syringes=(), cups=()))
    amount = serving(TANK, DUST, 1.0, TODAY, room=room)
    assert not amount.mixed
    assert amount.mg >= 5


def test_a_solid_feed_is_ground_only_where_the_keeper_says_so_of_it() -> None:
    few = make_tank("a1", FEEDS, animals=(Presence("adult", 3),))
    whole = serving(few, WAFER, 1.0, TODAY)
    assert (whole.mixed, whole.measures) == (False, 0.5)
    assert whole.note is not None and whole.note.code == "smallest_part"
    ground = serving(few, replace(WAFER, may_be_ground=True), 1.0, TODAY)
    assert ground.mixed
    assert ground.mg < whole.mg


def test_minerals_are_a_crumb_even_where_nobody_eats_solid_feed() -> None:
    nursery = make_tank("n1", FEEDS, animals=(Presence("shrimplet", 60),))
    assert serving(nursery, CHIP, 0.1, TODAY).measures == 0.5
    assert serving(TANK, CHIP, 0.1, TODAY).measures == 0.5
    assert serving(nursery, CHIP, 0.1, TODAY).part == 0.1


def test_leaves_are_whole_pieces_by_water_and_take_nothing_of_the_ration() -> None:
    amount = serving(TANK, replace(LEAF, label_mg_per_litre=30.0), 0.0, TODAY)
    assert (amount.measures, amount.part) == (3.0, 0.0)
    assert serving(TANK, LEAF, 0.0, TODAY).measures == 1.0


def test_a_feed_that_draws_comes_in_a_piece_for_every_so_many_adults() -> None:
    small = replace(WAFER, draws=True, measure=Measure("pellet", 10.0, 0.5))
    tank = make_tank("a1", (small,), animals=(Presence("adult", 38), Presence("shrimplet", 20)), grazing="rich")
    assert serving(tank, small, 0.5, TODAY).measures < 3
    assert serving(tank, small, 0.5, TODAY, draw_off=True).measures == 3
    assert serving(tank, replace(small, draws=False), 0.5, TODAY, draw_off=True).measures < 3


def test_pieces_too_large_to_give_that_many_whole_are_broken_into_as_many() -> None:
    large = replace(WAFER, draws=True, breaks="quarter", measure=Measure("pellet", 40.0, 0.25))
    tank = make_tank("a1", (large,), animals=(Presence("adult", 38), Presence("shrimplet", 20)), grazing="rich")
    amount = serving(tank, large, 0.5, TODAY, draw_off=True)
    assert amount.measures == 0.75
    assert amount.mg <= 1.5 * daily_ration(tank, large, TODAY).mg


def test_the_stop_says_what_goes_in_first_or_that_adults_will_share_the_powder() -> None:
    drawing = replace(WAFER, draws=True)
    room = make_room((DUST, drawing), make_tank("a1", (DUST, drawing)))
    powder, solid = due("a1", DUST, 1.0, 12), due("a1", drawing, 1.0, 60)
    both, alone = draw_off(room, "a1", [powder, solid], TODAY), draw_off(room, "a1", [powder], TODAY)
    assert both is not None and alone is not None
    assert (both.feed, both.adults, both.pieces) == ("wafer", 40, 3)
    assert draw_off_text(room, both).startswith("Wafer first, in 3 pieces or more for 40 adults, at one spot")
    assert "will share the powder" in draw_off_text(room, alone)
    assert draw_off(room, "a1", [solid], TODAY) is None
    apart = make_room((DUST, drawing), make_tank("a1", (DUST, drawing), animals=(Presence("shrimplet", 9),)))
    assert draw_off(apart, "a1", [powder, solid], TODAY) is None


def test_a_piece_within_the_ration_takes_the_part_that_it_is() -> None:
    rule = piece_rule(TANK, WAFER, replace(WAFER.rules, share=0.1), TODAY)
    assert 0.1 < rule.share == pytest.approx(0.75 * 30 / daily_ration(TANK, WAFER, TODAY).mg)
    assert rule.min_gap == WAFER.rules.min_gap


def test_a_piece_larger_than_the_days_ration_is_given_less_often_and_at_the_latest_after_a_week() -> None:
    few = make_tank("a1", FEEDS, animals=(Presence("adult", 6),), grazing="fair")
    rule = piece_rule(few, WAFER, replace(WAFER.rules, min_gap=1), TODAY)
    ration = daily_ration(few, WAFER, TODAY).mg
    assert (rule.share, rule.min_gap) == (1.0, 4)
    assert 3 < 0.75 * 30 / ration <= 4
    one = make_tank("a1", FEEDS, animals=(Presence("juvenile", 1),))
    assert piece_rule(one, WAFER, WAFER.rules, TODAY).min_gap == 7


def test_feeds_by_volume_and_minerals_keep_their_rules() -> None:
    few = make_tank("a1", FEEDS, animals=(Presence("adult", 1), Presence("shrimplet", 1)))
    for feed in (DUST, CHIP, LEAF):
        rule = piece_rule(few, feed, feed.rules, TODAY)
        assert (rule.share, rule.min_gap) == (feed.rules.share, feed.rules.min_gap)


def test_a_known_feed_starts_at_its_full_part_and_a_new_one_at_half() -> None:
    history = Past().history()
    new = replace(WAFER, known=False)
    assert serving(MANY, WAFER, 0.5, TODAY, history=history) == replace(serving(MANY, WAFER, 0.5, TODAY), note=None)
    assert serving(MANY, new, 0.5, TODAY, history=history).mg == pytest.approx(
        serving(MANY, WAFER, 0.5, TODAY).mg / 2, abs=15
    )


def test_most_left_holds_the_next_solid_feed_back_for_two_days_and_no_fine_one() -> None:
    past = Past().gave("a1", WAFER, days_ago(1), 0.6).saw("a1", WAFER, days_ago(1), "most")
    history = past.history()
    hold = hold_on(ROOM, history, "a1", WAFER, TODAY)
    assert hold is not None
    assert hold.until == TODAY + timedelta(days=1)
    assert hold_on(ROOM, history, "a1", DUST, TODAY) is None
    assert hold_on(ROOM, history, "a1", WAFER, hold.until) is None


def test_a_fine_feed_that_was_mostly_left_holds_no_solid_feed_back() -> None:
    past = Past().gave("a1", DUST, days_ago(1), 0.6).saw("a1", DUST, days_ago(1), "most")
    assert hold_on(ROOM, past.history(), "a1", WAFER, TODAY) is None


def test_a_later_clean_report_ends_the_hold() -> None:
    past = Past().gave("a1", WAFER, days_ago(1), 0.6).saw("a1", WAFER, days_ago(1), "most")
    past.saw("a1", WAFER, TODAY, "none")
    assert hold_on(ROOM, past.history(), "a1", WAFER, TODAY) is None


def test_the_account_ends_in_the_amount_and_every_line_has_words() -> None:
    new = replace(WAFER, known=False)
    for feed, part in ((new, 0.5), (DUST, 1.0), (CHIP, 0.1), (LEAF, 0.0)):
        told = account(TANK, feed, part, TODAY, room=ROOM, history=Past().history())
        assert told.amount == serving(TANK, feed, part, TODAY, room=ROOM, history=Past().history())
        assert told.steps[-1].value == told.amount.mg
        assert all(step_text(step) for step in told.steps)


@settings(max_examples=50, deadline=None)
@given(st.sampled_from((DUST, WAFER, replace(WAFER, known=False))), st.floats(0.05, 1.0))
def test_the_account_of_what_is_due_ends_in_what_was_posted(feed: object, part: float) -> None:
    assert isinstance(feed, type(WAFER))
    amount = serving(TANK, feed, part, TODAY, room=ROOM, history=Past().history())
    posted = PostedServing(
        "a1", feed.id, "morning", amount.part, amount.measures, amount.unit, amount.mg, feed.rules.method
    )
    history = Past().posted(TODAY, (posted,)).history()
    assert account_of_day(ROOM, history, TANK, feed, TODAY).amount.mg == pytest.approx(amount.mg)


def test_what_was_given_extra_shrinks_what_is_still_to_come_at_that_table_and_a_sentence_says_so() -> None:
    greens = make_feed("greens", "greens")
    room = make_room((*FEEDS, greens), TANK)
    past = Past().posted(TODAY, (due("a1", WAFER, 0.6, 120),)).gave("a1", greens, TODAY, 0.7, planned=False)
    left = remaining_amount(room, past.history(), past.postings[0].days[0][0], TODAY)
    assert left.amount.mg == 60
    assert left.amount.part == pytest.approx(0.3)
    assert remaining_text(room, "wafer", left) == "1 pellet (60 mg): Greens already took 0.7 of today"


def test_what_the_fine_table_got_leaves_the_solid_feed_as_it_was() -> None:
    past = Past().posted(TODAY, (due("a1", WAFER, 0.6, 120),)).gave("a1", DUST, TODAY, 1.0, planned=False)
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][0], TODAY)
    assert (left.amount.mg, left.reason) == (120, None)
    assert given_part(ROOM, past.history(), "a1", "fine", TODAY) == 1.0
    assert given_part(ROOM, past.history(), "a1", "ground", TODAY) == 0.0


def test_a_day_that_already_had_its_ration_leaves_nothing() -> None:
    past = Past().posted(TODAY, (due("a1", WAFER, 0.6, 120),)).gave("a1", CHIP, TODAY, 1.1, planned=False)
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][0], TODAY)
    assert left.amount.mg == 0
    assert remaining_text(ROOM, "wafer", left) == "nothing: Chip already took 1.1 of today"


def test_what_goes_as_planned_leaves_the_rest_as_it_was() -> None:
    past = Past().posted(TODAY, (due("a1", CHIP, 0.3, 30), due("a1", WAFER, 0.6, 120))).gave("a1", CHIP, TODAY, 0.3)
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][1], TODAY)
    assert (left.amount.mg, left.reason) == (120, None)


def test_most_left_this_morning_leaves_nothing_of_a_solid_feed_due_today() -> None:
    past = Past().posted(TODAY, (due("a1", WAFER, 0.6, 120),)).gave("a1", WAFER, days_ago(1), 0.5)
    past.saw("a1", WAFER, TODAY, "most")
    left = remaining_amount(ROOM, past.history(), past.postings[0].days[0][0], TODAY)
    assert left.amount.mg == 0
    assert remaining_text(ROOM, "wafer", left) == "nothing: most of Wafer was left"


reports = st.lists(st.sampled_from(("none", "some", "most", None)), max_size=6)


@settings(max_examples=150, deadline=None)
@given(
    kind=st.sampled_from(KINDS),
    part=st.floats(0.01, 1.0),
    weighs=st.floats(0.5, 400),
    step=st.sampled_from((0.1, 0.25, 0.33, 0.5, 1.0)),
    heads=st.integers(1, 600),
    litres=st.floats(0.5, 500),
    said=reports,
    known=st.booleans(),
)
def test_a_serving_is_measurable_never_nothing_and_never_more_than_its_part_but_for_rounding(
    kind: Kind,
    part: float,
    weighs: float,
    step: float,
    heads: int,
    litres: float,
    said: list[Leftovers | None],
    known: bool,
) -> None:
    feed = make_feed("feed", kind, measure=Measure("measure", weighs, step), known=known)
    animals = (Presence("adult", heads), Presence("filter_feeder", 3), Presence("shrimplet", 20))
    tank = make_tank("a1", (feed,), litres=litres, animals=animals)
    room = make_room((feed,), tank)
    past = Past()
    for number, report in enumerate(said):
        past.gave("a1", feed, days_ago(3 * (len(said) - number)), part)
        if report is not None:
            past.saw("a1", feed, days_ago(3 * (len(said) - number)), report)
    amount = serving(tank, feed, part, TODAY, room=room, history=past.history())
    ration = daily_ration(tank, feed, TODAY, room)
    assert amount.mg > 0
    assert 0 < amount.part <= part * (1 + 1e-9)
    assert amount.part <= share_of(tank, feed, amount.mg, TODAY, room) + 1e-9
    if amount.mixed:
        assert amount.mg <= min(ration.most_mg, ration.mg * part * (1 + class_error(room.tools.doses_ml))) * (1 + 1e-9)
        return
    assert not by_volume(feed, feed.rules, room.tools)
    least = smallest_mg(feed)
    assert amount.mg <= max(least, 1.5 * ration.mg * part, ration.mg * part + 5) * (1 + 1e-6)
    parts = amount.mg / (smallest_part(feed.measure) * weighs)
    weighed = amount.measures > 10 and round(amount.mg / 10) * 10 == pytest.approx(amount.mg)
    assert weighed or parts == pytest.approx(round(parts), abs=1e-6)


@settings(max_examples=100, deadline=None)
@given(
    given_parts=st.lists(st.floats(0, 0.9), max_size=4),
    parts=st.lists(st.floats(0.05, 0.6), min_size=1, max_size=2),
)
def test_what_remains_never_takes_a_table_over_its_ration(given_parts: list[float], parts: list[float]) -> None:
    feeds = (WAFER, make_feed("flake", "protein"))
    room = make_room(feeds, make_tank("a1", feeds))
    past = Past().posted(TODAY, tuple(due("a1", feed, part, 100) for feed, part in zip(feeds, parts, strict=False)))
    for number, part in enumerate(given_parts):
        past.gave("a1", make_feed(f"extra{number}", "greens"), TODAY, part, planned=False)
    total = 0.0
    for posted in past.postings[0].days[0]:
        left = remaining_amount(room, past.history(), posted, TODAY).amount
        assert left.mg <= posted.amount_mg
        total += left.part
    assert total <= max(1.0 - sum(given_parts), 0.0) + 1e-6 or total <= sum(parts) <= 1 - sum(given_parts) + 1e-6
