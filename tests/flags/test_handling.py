"""Flags of how it was given, of leftovers twice, of amounts that are far off, of water, and of too little."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from schedules.ledger.entries import Reason, Skipped
from schedules.review.flags import Flag, FlagKind, flags
from schedules.room import Measure, Presence, Room, Water
from schedules.room.kinds import Kind
from schedules.wording.flags import advice_text, evidence_text
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
    assert "some left of" in evidence_text(ROOM, found[0])
    assert "most left of" in evidence_text(ROOM, found[0])


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
    assert "2 times as much of the ration" in evidence_text(ROOM, found[0])


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


def both_due(days: int) -> Past:
    """Powder and a wafer that draws, due on each of the last days."""
    day = (due("a1", DUST, 0.3, 30), due("a1", WAFER, 0.6, 60))
    return Past().posted(days_ago(days), *(days * [day]))


def test_powder_given_while_the_due_wafer_was_left_out_is_flagged_once_a_tank_where_adults_live() -> None:
    past = both_due(4).gave("a1", DUST, days_ago(4), 0.3).gave("a1", DUST, days_ago(2), 0.3)
    found = of("unaccompanied", past)
    assert [(flag.tank, flag.day) for flag in found] == [("a1", days_ago(2))]
    assert "40 adults, as on 2 days since Sat 21 Nov" in evidence_text(ROOM, found[0])
    no_adults = make_room(FEEDS, replace(TANK, animals=(Presence("shrimplet", 50),)))
    assert of("unaccompanied", past, no_adults) == []


def test_powder_without_a_wafer_that_a_rule_held_back_is_as_it_should_be() -> None:
    past = both_due(2).gave("a1", DUST, days_ago(2), 0.3)
    assert len(of("unaccompanied", past)) == 1
    past.write(Skipped("a1", "wafer", "morning", Reason.of("leftovers", feed="wafer")), days_ago(2))
    assert of("unaccompanied", past) == []


def test_what_the_plan_itself_did_is_no_flag_and_a_leaf_draws_nobody() -> None:
    leaf = make_feed("leaf", "greens")
    room = make_room((*FEEDS, leaf), make_tank("a1", (*FEEDS, leaf)))
    past = Past().posted(days_ago(1), (due("a1", DUST, 0.3, 30),)).gave("a1", DUST, days_ago(1), 0.3)
    assert of("unaccompanied", past, room) == []
    past.gave("a1", leaf, days_ago(1), 0.3)
    past.posted(days_ago(1), (due("a1", DUST, 0.3, 30), due("a1", WAFER, 0.6, 60)))
    assert len(of("unaccompanied", past, room)) == 1


def test_powder_this_morning_waits_for_what_draws_and_is_still_due() -> None:
    past = Past().posted(TODAY, (due("a1", DUST, 0.3, 30), due("a1", WAFER, 0.6, 60))).gave("a1", DUST, TODAY, 0.3)
    assert of("unaccompanied", past) == []
    past.write(Skipped("a1", "wafer", "morning", Reason.other("out of stock")), TODAY)
    assert len(of("unaccompanied", past)) == 1


def test_feed_past_its_date_is_flagged_with_the_date() -> None:
    found = of("past_date", Past().gave("a1", STREWN, days_ago(6), 0.3).gave("a1", STREWN, days_ago(2), 0.3))
    assert [flag.day for flag in found] == [days_ago(2)]
    assert "best before Fri 20 Nov 2026" in evidence_text(ROOM, found[0])
    assert of("past_date", Past().gave("a1", STREWN, days_ago(5), 0.3)) == []


def test_a_spoon_typed_as_ten_is_flagged_with_what_was_planned() -> None:
    past = Past().posted(TODAY, (due("a1", DUST, 0.3, 120),))
    past.gave("a1", DUST, TODAY, 3.0, amount=10.0, amount_mg=1200.0)
    found = of("far_from_planned", past)
    assert [(flag.feed, flag.severity) for flag in found] == [("dust", "medium")]
    assert "10 spoons (1.20 g) given" in evidence_text(ROOM, found[0])
    assert "planned 1 spoon (120 mg): 10 times that" in evidence_text(ROOM, found[0])


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
    # 200 mg × 0.42 × 0.16 / 10 L = 1.34 mg/L if left, 0.77 if eaten; chronic 1.0767 at pH 7.5 and 24 °C; with
    # young in the tank what a drop test shows is an alarm
    found = of("ammonia_load", past, room)
    assert [flag.severity for flag in found] == ["high"]
    assert "0.77 mg/L" in evidence_text(ROOM, found[0])
    assert "1.3 if left" in evidence_text(ROOM, found[0])
    assert "chronic limit (EPA 2013) is 1.1" in evidence_text(ROOM, found[0])
    assert of("ammonia_load", Past().gave("a1", DUST, TODAY, 0.3, amount_mg=50.0), room) == []


def test_shrimplets_without_fine_feed_of_any_sort_beyond_their_longest_gap_are_flagged() -> None:
    film = make_feed("film", "biofilm")
    room = make_room((DUST, film), make_tank("a1", (DUST, film)))
    found = of("no_fine_feed", Past().gave("a1", DUST, days_ago(3), 0.3), room)
    assert [(flag.feed, flag.severity) for flag in found] == [(None, "high")]
    assert "60 shrimplets without fine feed for 3 days, at most 2 days" in evidence_text(ROOM, found[0])
    assert "last given Sun 22 Nov" in evidence_text(ROOM, found[0])
    assert of("no_fine_feed", Past().gave("a1", DUST, days_ago(9), 0.3).gave("a1", film, days_ago(1), 0.3), room) == []


def test_the_last_day_of_a_longest_gap_is_no_flag_while_the_feed_is_still_due() -> None:
    room = make_room((DUST,), make_tank("a1", (DUST,)))
    past = Past().gave("a1", DUST, days_ago(2), 0.3)
    assert len(of("no_fine_feed", past, room)) == 1
    assert of("no_fine_feed", past.posted(TODAY, (due("a1", DUST, 0.3, 30),)), room) == []


def test_filter_feeders_without_suspension_for_their_longest_gap_are_flagged_as_bad() -> None:
    drift = make_feed("drift", "suspension")
    room = make_room((drift,), make_tank("a1", (drift,), animals=(Presence("filter_feeder", 2),)))
    found = of("no_fan_feed", Past().gave("a1", drift, days_ago(3), 0.3), room)
    assert [flag.severity for flag in found] == ["high"]
    assert "2 filter feeders without suspension for 3 days, at most 3 days" in evidence_text(ROOM, found[0])
    assert of("no_fan_feed", Past().gave("a1", drift, days_ago(2), 0.3), room) == []


def test_a_late_mineral_is_less_of_a_worry_and_one_never_given_is_none() -> None:
    chalk = make_feed("chalk", "mineral", measure=Measure("crumb", 4.0, 0.5))
    room = make_room((DUST, chalk), make_tank("a1", (DUST, chalk)))
    found = of("no_mineral", Past().gave("a1", chalk, days_ago(9), 0.3), room)
    assert [(flag.feed, flag.severity) for flag in found] == [(None, "low")]
    assert of("no_mineral", Past().gave("a1", DUST, days_ago(20), 0.3), room) == []
    grown = make_room((chalk,), make_tank("a1", (chalk,), animals=(Presence("adult", 30),)))
    assert of("no_mineral", Past().gave("a1", chalk, days_ago(9), 0.3), grown) == []


def test_shrimplets_wait_only_since_they_hatched_and_since_the_ledger_began() -> None:
    hatched = make_room((DUST,), make_tank("a1", (DUST,), animals=(Presence("shrimplet", 30, first=TODAY),)))
    assert of("no_fine_feed", Past().gave("a1", DUST, days_ago(20), 0.3), hatched) == []
    assert of("no_fine_feed", Past(), make_room((DUST,), make_tank("a1", (DUST,)))) == []


def test_hatchlings_of_this_morning_have_gone_without_nothing_yet() -> None:
    chalk = make_feed("chalk", "mineral", measure=Measure("crumb", 4.0, 0.5))
    animals = (Presence("adult", 30), Presence("juvenile", 9), Presence("shrimplet", 33, first=TODAY))
    tank = make_tank("a1", (DUST, chalk), animals=animals, grazing="poor")
    past = Past().gave("a1", chalk, days_ago(16), 0.3).gave("a1", DUST, days_ago(4), 0.3)
    assert of("no_mineral", past, make_room((DUST, chalk), tank)) == []
    assert of("no_fine_feed", past, make_room((DUST, chalk), tank)) == []


@pytest.mark.parametrize("kind", ["powder", "biofilm", "suspension"])
def test_no_advice_says_to_take_out_or_look_for_what_is_dissolved(kind: Kind) -> None:
    fine = make_feed("fine", kind, min_gap=2)
    animals = (Presence("shrimplet", 50), Presence("filter_feeder", 3))
    room = make_room((fine,), make_tank("a1", (fine,), animals=animals, surface="still"))
    past = Past().posted(days_ago(5), *(6 * [(due("a1", fine, 0.3, 30),)]))
    for ago in (5, 3, 2):
        past.gave("a1", fine, days_ago(ago), 0.4 + 0.4 * (5 - ago)).saw("a1", fine, days_ago(ago), "most")
    past.gave("a1", fine, TODAY, 3.0).gave("a1", fine, TODAY, 3.0).saw("a1", fine, TODAY, "some")
    found = flags(room, past.history(), at(TODAY))

    assert {"leftovers", "leftovers_twice", "raised_after_leftovers", "doubled", "over_ration", "under_gap"} <= {
        flag.kind for flag in found
    }
    said = [advice_text(room, flag).lower() for flag in found if flag.kind != "ammonia_load"]
    assert [text for text in said if any(word in text for word in ("take", "lying", "leftovers", "lies"))] == []


def test_ammonia_of_several_days_in_acid_water_is_an_alarm_once_a_drop_test_would_show_it() -> None:
    # At pH 6.5 and 22 °C the chronic criterion (EPA 2013) is above 2 mg/L; a drop test shows 0.5 mg/L long before.
    tank = make_tank("a1", FEEDS, water=Water(22.0, 6.5))
    room = make_room(FEEDS, tank)

    def days_of(mg: float) -> Past:
        past = Past()
        for ago in (2, 1, 0):
            past.gave("a1", WAFER, days_ago(ago), 0.9, amount_mg=mg)
        return past

    (flag,) = of("ammonia_load", days_of(300.0), room)
    assert (flag.severity, flag.day) == ("high", TODAY)
    assert "as a drop test would show" in evidence_text(room, flag)
    assert of("ammonia_load", days_of(50.0), room) == []


def test_juveniles_on_poor_grazing_without_fine_feed_are_less_of_a_worry() -> None:
    tank = make_tank("a1", (DUST,), animals=(Presence("juvenile", 30),), grazing="poor")
    found = of("no_fine_feed", Past().gave("a1", DUST, days_ago(4), 0.3), make_room((DUST,), tank))
    assert [flag.severity for flag in found] == ["medium"]
    assert evidence_text(ROOM, found[0]).startswith("30 juveniles without")


def test_a_tank_that_got_nothing_for_days_is_flagged() -> None:
    room = make_room((WAFER,), make_tank("a1", (WAFER,)), make_tank("a2", (WAFER,)), make_tank("a3", (), animals=()))
    past = Past().gave("a1", WAFER, days_ago(9), 0.6).gave("a2", WAFER, days_ago(4), 0.6)
    found = of("nothing_given", past, room)
    assert [(flag.tank, flag.day) for flag in found] == [("a1", TODAY)]
    assert "nothing given for 9 days; last Mon 16 Nov" in evidence_text(ROOM, found[0])
