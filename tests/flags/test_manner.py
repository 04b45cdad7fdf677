"""Flags of how it was given, of leftovers twice, of amounts that are far off, of water, and of too little."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from schedules.ledger.entries import Reason, Skipped
from schedules.review.flags import Flag, FlagKind, flags
from schedules.room import Measure, Presence, Room, Water
from tests.amounts.rooms import TODAY, Past, at, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
STREWN = make_feed("strewn", "powder", method="surface", best_before=date(2026, 11, 20))
WAFER = make_feed("wafer", "staple")
FEEDS = (DUST, STREWN, WAFER)
TANK = make_tank("a1", FEEDS)
ROOM = make_room(FEEDS, TANK)


def of(kind: FlagKind, past: Past, room: Room = ROOM) -> list[Flag]:
    return [flag for flag in flags(room, past.history(), at(TODAY)) if flag.kind == kind]


def test_leftovers_of_two_servings_running_are_the_worst_kind() -> None:
    past = Past().gave("a1", WAFER, days_ago(5), 0.6).saw("a1", WAFER, days_ago(5), "some")
    past.gave("a1", WAFER, days_ago(2), 0.6).saw("a1", WAFER, days_ago(1), "most")
    found = of("leftovers_twice", past)
    assert [(flag.feed, flag.day, flag.severity) for flag in found] == [("wafer", days_ago(2), "high")]
    assert "some left of" in found[0].evidence
    assert "most left of" in found[0].evidence


def test_leftovers_with_a_clean_serving_between_are_not_twice_running() -> None:
    past = Past().gave("a1", WAFER, days_ago(7), 0.6).saw("a1", WAFER, days_ago(7), "some")
    past.gave("a1", WAFER, days_ago(5), 0.6).saw("a1", WAFER, days_ago(5), "none")
    past.gave("a1", WAFER, days_ago(3), 0.6).saw("a1", WAFER, days_ago(3), "some")
    assert of("leftovers_twice", past) == []


def test_more_given_although_something_was_left_is_flagged_with_both_amounts() -> None:
    past = Past().gave("a1", WAFER, days_ago(5), 0.3).saw("a1", WAFER, days_ago(5), "some")
    past.gave("a1", WAFER, days_ago(2), 0.6)
    found = of("raised_after_leftovers", past)
    assert [flag.day for flag in found] == [days_ago(2)]
    assert "2 times as much of the ration" in found[0].evidence


def test_the_same_or_less_after_leftovers_is_no_flag() -> None:
    past = Past().gave("a1", WAFER, days_ago(5), 0.6).saw("a1", WAFER, days_ago(5), "some")
    past.gave("a1", WAFER, days_ago(2), 0.6)
    assert of("raised_after_leftovers", past) == []


def test_powder_strewn_on_still_water_is_flagged_and_on_rippled_water_it_is_not() -> None:
    # Common practice, no source: powder strewn on a surface that nothing stirs still floats after a quarter of an hour.
    still = make_room(FEEDS, replace(TANK, surface="still"))
    past = Past().gave("a1", STREWN, TODAY, 0.3).gave("a1", DUST, TODAY, 0.3)
    assert [flag.feed for flag in of("powder_on_still", past, still)] == ["strewn"]
    assert of("powder_on_still", past) == []


def test_powder_without_a_solid_feed_beside_it_is_flagged_once_a_tank_where_adults_live() -> None:
    past = Past().gave("a1", DUST, days_ago(4), 0.3).gave("a1", DUST, days_ago(2), 0.3)
    found = of("unaccompanied", past)
    assert [(flag.tank, flag.day) for flag in found] == [("a1", days_ago(2))]
    assert "40 adults, as on 2 days since Sat 21 Nov" in found[0].evidence
    no_adults = make_room(FEEDS, replace(TANK, animals=(Presence("shrimplet", 50),)))
    assert of("unaccompanied", past, no_adults) == []


def test_powder_alone_on_the_tanks_rest_day_is_as_it_should_be() -> None:
    resting = make_room(FEEDS, replace(TANK, rest_weekday=days_ago(2).weekday()))
    assert of("unaccompanied", Past().gave("a1", DUST, days_ago(2), 0.3), resting) == []


def test_powder_this_morning_waits_for_the_solid_feed_still_due() -> None:
    past = Past().posted(TODAY, (due("a1", DUST, 0.3, 30), due("a1", WAFER, 0.6, 60))).gave("a1", DUST, TODAY, 0.3)
    assert of("unaccompanied", past) == []
    past.write(Skipped("a1", "wafer", "morning", Reason.other("out of stock")), TODAY)
    assert len(of("unaccompanied", past)) == 1


def test_feed_past_its_date_is_flagged_with_the_date() -> None:
    found = of("past_date", Past().gave("a1", STREWN, days_ago(6), 0.3).gave("a1", STREWN, days_ago(2), 0.3))
    assert [flag.day for flag in found] == [days_ago(2)]
    assert "best before Fri 20 Nov 2026" in found[0].evidence
    assert of("past_date", Past().gave("a1", STREWN, days_ago(5), 0.3)) == []


def test_a_spoon_typed_as_ten_is_flagged_with_what_was_planned() -> None:
    past = Past().posted(TODAY, (due("a1", DUST, 0.3, 120),))
    past.gave("a1", DUST, TODAY, 3.0, amount=10.0, amount_mg=1200.0)
    found = of("far_from_planned", past)
    assert [(flag.feed, flag.severity) for flag in found] == [("dust", "medium")]
    assert "10 spoons (1.20 g) given" in found[0].evidence
    assert "planned 1 spoon (120 mg): 10 times that" in found[0].evidence


def test_a_tenth_of_what_was_planned_is_flagged_less_and_twice_as_much_is_let_pass() -> None:
    past = Past().posted(days_ago(1), (due("a1", DUST, 0.3, 120),), (due("a1", DUST, 0.3, 120),))
    past.gave("a1", DUST, days_ago(1), 0.1, amount_mg=12.0).gave("a1", DUST, TODAY, 0.6, amount_mg=240.0)
    assert [(flag.day, flag.severity) for flag in of("far_from_planned", past)] == [(days_ago(1), "low")]


def test_less_than_planned_on_a_day_with_an_extra_feeding_is_no_slip() -> None:
    past = Past().posted(TODAY, (due("a1", DUST, 0.3, 120),)).gave("a1", WAFER, TODAY, 0.9, planned=False)
    past.gave("a1", DUST, TODAY, 0.1, amount_mg=12.0)
    assert of("far_from_planned", past) == []


def test_a_day_whose_feed_would_pass_the_chronic_limit_is_flagged_and_says_it_is_about_load() -> None:
    water = Water(temperature=24.0, ph=7.5)
    room = make_room(FEEDS, replace(TANK, litres=10.0, water=water))
    past = Past().gave("a1", DUST, TODAY, 3.0, amount_mg=200.0)
    # 200 mg × 0.42 × 0.16 / 10 L = 1.34 mg/L if left, 0.77 if eaten; chronic 1.0767 at pH 7.5 and 24 °C
    found = of("ammonia_load", past, room)
    assert [flag.severity for flag in found] == ["medium"]
    assert "0.77 mg/L" in found[0].evidence
    assert "1.3 if left" in found[0].evidence
    assert "chronic limit (EPA 2013) is 1.1" in found[0].evidence
    assert of("ammonia_load", Past().gave("a1", DUST, TODAY, 0.3, amount_mg=50.0), room) == []


def test_shrimplets_beyond_their_maximum_gap_are_flagged_and_on_the_last_day_of_it_they_are_not() -> None:
    room = make_room((DUST,), make_tank("a1", (DUST,)))
    found = of("shrimplets_waiting", Past().gave("a1", DUST, days_ago(4), 0.3), room)
    assert [(flag.feed, flag.severity) for flag in found] == [("dust", "high")]
    assert "60 shrimplets without Dust for 4 days, at most 3 days; last given Sat 21 Nov" in found[0].evidence
    assert of("shrimplets_waiting", Past().gave("a1", DUST, days_ago(3), 0.3), room) == []


def test_a_late_mineral_feed_is_less_of_a_worry_than_a_late_fine_one() -> None:
    chalk = make_feed("chalk", "mineral", measure=Measure("crumb", 4.0, 0.5))
    room = make_room((chalk,), make_tank("a1", (chalk,)))
    found = of("shrimplets_waiting", Past().gave("a1", chalk, days_ago(9), 0.3), room)
    assert [(flag.feed, flag.severity) for flag in found] == [("chalk", "low")]


def test_shrimplets_wait_only_since_they_hatched_and_since_the_ledger_began() -> None:
    hatched = make_room((DUST,), make_tank("a1", (DUST,), animals=(Presence("shrimplet", 30, first=days_ago(2)),)))
    assert of("shrimplets_waiting", Past().gave("a1", DUST, days_ago(20), 0.3), hatched) == []
    assert of("shrimplets_waiting", Past(), make_room((DUST,), make_tank("a1", (DUST,)))) == []


def test_a_tank_that_got_nothing_for_days_is_flagged() -> None:
    room = make_room((WAFER,), make_tank("a1", (WAFER,)), make_tank("a2", (WAFER,)), make_tank("a3", (), animals=()))
    past = Past().gave("a1", WAFER, days_ago(9), 0.6).gave("a2", WAFER, days_ago(4), 0.6)
    found = of("nothing_given", past, room)
    assert [(flag.tank, flag.day) for flag in found] == [("a1", TODAY)]
    assert "nothing given for 9 days; last Mon 16 Nov" in found[0].evidence
