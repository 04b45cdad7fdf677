"""What to get ready before a round, how long that takes, and when to look back after it."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from schedules.amounts.mixing import Pick, feed_minutes, look_back, preparation_minutes, prepare
from schedules.amounts.ration import daily_ration
from schedules.ledger.entries import PostedServing
from schedules.room import Presence, QuarantineRules, Room
from schedules.wording.amounts import look_text
from schedules.wording.pick_list import pick_text
from tests.amounts.rooms import TODAY, Past, at, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
STREWN = make_feed("strewn", "powder", method="surface")
WAFER = make_feed("wafer", "staple", gone_after_hours=4)
FEEDS = (DUST, STREWN, WAFER)
ROOM = make_room(
    FEEDS,
    make_tank("q1", FEEDS, quarantine=True),
    make_tank("a1", FEEDS, surface="still"),
    make_tank("a2", FEEDS, surface="broken"),
)
SERVINGS = (
    due("a1", DUST, 0.3, 56),
    due("a2", DUST, 0.3, 80),
    due("q1", DUST, 0.3, 48),
    due("a1", WAFER, 0.6, 30),
    due("a2", WAFER, 0.6, 60),
    due("q1", WAFER, 0.6, 30),
)


def picks(room: Room = ROOM, servings: tuple[PostedServing, ...] = SERVINGS) -> tuple[Pick, ...]:
    return prepare(room, Past().posted(TODAY, servings, servings).history(), servings, TODAY).picks


def texts(stage: str, room: Room = ROOM) -> list[str]:
    return [pick_text(room, pick) for pick in picks(room) if pick.stage == stage]


def test_the_list_goes_from_shelf_to_scale_to_bottle_to_hand_and_quarantine_comes_last() -> None:
    order = ["shelf", "weigh", "mix", "carry", "quarantine"]
    stages = [pick.stage for pick in picks()]
    assert set(stages) == set(order)
    assert stages == sorted(stages, key=order.index)


def test_solid_feed_is_counted_and_quarantines_own_part_is_apart() -> None:
    assert "Wafer: 1½ pellets (90 mg)" in texts("carry")
    assert "Wafer: ½ pellet (30 mg)" in texts("quarantine")
    assert any("into quarantine's cup" in text for text in texts("quarantine"))


def test_the_bottles_label_and_each_dose_class_with_its_tanks_are_on_the_list() -> None:
    label = next(text for text in texts("mix") if "label" in text)
    assert "mg/mL, made Wed 25 Nov, good today only" in label
    classes = [text for text in texts("mix") if " for " in text]
    assert len(classes) == 3
    assert sorted(tank for text in classes for tank in text.rpartition(" for ")[2].split(", ")) == ["a1", "a2", "q1"]


def test_cups_for_the_coming_mornings_are_weighed_with_their_day_on_the_label() -> None:
    days = [text for text in texts("weigh") if "labelled" in text]
    assert [text.split(":")[0] for text in days] == ["Dust for Wed 25 Nov", "Dust for Thu 26 Nov"]


def test_a_keeper_without_scales_reads_no_milligrams() -> None:
    plain = replace(ROOM, tools=replace(ROOM.tools, plain=True, scale_mg=None))
    said = [pick_text(plain, pick) for pick in picks(plain)]
    assert not any(" mg" in text for text in said)
    assert any("spoon" in text for text in said)


def test_nothing_due_needs_nothing_prepared() -> None:
    nothing = prepare(ROOM, Past().history(), (), TODAY)
    assert (nothing.picks, nothing.minutes, nothing.bottles) == ((), 0.0, ())


def test_fewer_feeds_to_open_on_a_morning_are_worth_minutes() -> None:
    two = preparation_minutes(ROOM, SERVINGS)
    one = preparation_minutes(ROOM, SERVINGS[3:])
    assert two - one > feed_minutes(fine=False) > 0
    assert feed_minutes(fine=True) > feed_minutes(fine=False)


def test_the_minutes_count_the_cups_that_are_weighed_that_day() -> None:
    posted = Past().posted(days_ago(0), *[SERVINGS] * 7).history()
    today = prepare(ROOM, posted, SERVINGS, TODAY)
    assert today.minutes > preparation_minutes(ROOM, SERVINGS)
    assert len(today.weighings) == 1


@pytest.mark.parametrize("day", range(7))
def test_forty_eight_tanks_are_prepared_in_six_reckoned_minutes_on_every_day_of_the_week(day: int) -> None:
    feeds = (DUST, make_feed("film", "biofilm"), WAFER, make_feed("greens", "greens"), make_feed("chip", "mineral"))
    room = make_room(feeds, *(make_tank(f"t{number}", feeds) for number in range(48)))
    # Each tank gets a powder, every second one film as well, and two solid feeds: more than a usual morning.
    morning = tuple(
        due(f"t{number}", feed, 0.5, mg)
        for number in range(48)
        for feed, mg in ((DUST, 8.0 + number % 3 * 4), (feeds[1], 6.0), (WAFER, 30.0), (feeds[3], 60.0))
        if feed is not feeds[1] or number % 2 == 0
    )
    today = TODAY + timedelta(days=day)
    history = Past().posted(TODAY - timedelta(days=14), *[morning] * 42).history(today)
    prepared = prepare(room, history, morning, today)
    assert prepared.minutes <= 6
    assert sum(len(bottle.doses) for bottle in prepared.bottles) == 72
    assert all(bottle.exceptions == () for bottle in prepared.bottles)


def test_each_solid_feed_is_looked_at_when_it_should_be_gone_in_the_order_of_time() -> None:
    past = Past().gave("a1", WAFER, TODAY, 0.3).gave("a2", STREWN, TODAY, 0.3).gave("a1", STREWN, TODAY, 0.3)
    listed = look_back(ROOM, past.history(), TODAY, at(TODAY, 7, 30))
    assert [(each.tank, each.feed) for each in listed] == [("a2", "strewn"), ("a1", "strewn"), ("a1", "wafer")]
    assert listed[-1].at == at(TODAY) + timedelta(hours=4)
    assert [each.passed for each in listed] == [True, True, False]
    assert look_text(ROOM, listed[-1]) == "Wafer should be gone"


def test_what_is_left_of_a_piece_too_large_for_the_tank_is_to_be_taken_out() -> None:
    few = make_tank("a1", FEEDS, animals=(Presence("adult", 5),))
    room = make_room(FEEDS, few)
    ration = daily_ration(few, WAFER, TODAY).mg
    large = Past().gave("a1", WAFER, TODAY, 1.0, amount_mg=1.6 * ration).history()
    usual = Past().gave("a1", WAFER, TODAY, 1.0, amount_mg=1.4 * ration).history()
    assert [each.look for each in look_back(room, large, TODAY, at(TODAY))] == ["take_out"]
    assert [each.look for each in look_back(room, usual, TODAY, at(TODAY))] == ["gone"]


def test_powder_on_a_still_surface_is_looked_at_later_than_on_a_broken_one() -> None:
    # Common practice, no source: on a still surface powder floats after a quarter of an hour, an air stone clears it.
    past = Past().gave("a1", STREWN, TODAY, 0.3).gave("a2", STREWN, TODAY, 0.3)
    when = {each.tank: each.at for each in look_back(ROOM, past.history(), TODAY, at(TODAY))}
    assert when["a1"] - at(TODAY) > timedelta(minutes=15) > when["a2"] - at(TODAY)


def test_what_is_stirred_in_asks_once_a_tank_whether_the_water_is_clear_by_evening_and_leaves_ask_nothing() -> None:
    leaf = make_feed("leaf", "greens", extra=True)
    room = make_room((*FEEDS, leaf), make_tank("a1", (*FEEDS, leaf)))
    past = Past().gave("a1", DUST, TODAY, 0.3).gave("a1", DUST, TODAY, 0.1).gave("a1", leaf, TODAY, 0.0)
    (look,) = look_back(room, past.history(), TODAY, at(TODAY, 17))
    assert (look.feed, look.look, look.at, look.passed) == ("dust", "clear", at(TODAY, 18, 0), False)
    assert look_text(room, look) == "the water should be clear again after Dust"
    assert look_back(room, past.saw("a1", DUST, TODAY, "none").history(), TODAY, at(TODAY, 22)) == ()


def test_what_was_reported_on_needs_no_second_look() -> None:
    past = Past().gave("a1", WAFER, TODAY, 0.6).saw("a1", WAFER, TODAY, "none")
    assert look_back(ROOM, past.history(), TODAY, at(TODAY, 12)) == ()


def test_a_report_from_before_the_serving_is_no_look_after_it() -> None:
    past = Past().saw("a1", WAFER, TODAY, "none").gave("a1", WAFER, TODAY, 0.3)
    assert [each.feed for each in look_back(ROOM, past.history(), TODAY, at(TODAY, 12))] == ["wafer"]


def test_quarantines_tools_are_the_rooms_where_it_names_them() -> None:
    room = replace(ROOM, quarantine=QuarantineRules(tools="blue net"))
    assert pick_text(room, Pick("quarantine", "own_tools")) == (
        "Quarantine's own tools, which go nowhere else: blue net"
    )
