"""What is recorded of a serving given, left out, or given without being due, and what is held back before."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import pytest

from schedules.ledger import PostedServing, Served, Sighting, Skipped
from schedules.room import Room, RoundTime
from schedules.round import Refusal, as_served, current_round, finish_stop, give, round_sheet
from schedules.round.fresh_hatch import fine_after_hatch
from schedules.round.marks import reason_of
from schedules.round.types import Stop
from tests.amounts.rooms import TODAY, Past, at, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
FILM = make_feed("film", "biofilm")
FLAKE = make_feed("flake", "staple", min_gap=2, minutes=4.0)
WAFER = make_feed("wafer", "staple", method="surface")
FEEDS = (DUST, FILM, FLAKE, WAFER)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS))
POWDER, FLAKES = due("a1", DUST, 0.3, 36.0), due("a1", FLAKE, 0.6, 60.0)


def stop(past: Past, room: Room = ROOM) -> Stop:
    (found,) = round_sheet(room, past.history(), TODAY, TODAY, "morning").stops
    return found


def posted(*servings: PostedServing) -> Past:
    return Past().posted(TODAY, servings)


def made(past: Past, feed: str, amount: float | None = None, room: Room = ROOM) -> Served:
    found = give(room, past.history(), TODAY, "a1", feed, amount, anyway=True)
    assert isinstance(found, Served)
    return found


def test_a_serving_in_another_amount_takes_its_part_of_the_ration_with_it() -> None:
    """36 mg are 0.3 spoons of 120 mg; half as much again is 54 mg and 0.45 of the ration."""
    served = as_served(POWDER, 0.45)

    assert (served.amount, served.unit, served.planned) == (0.45, "spoon", True)
    assert served.amount_mg == pytest.approx(54.0)
    assert served.part == pytest.approx(0.45)
    assert as_served(POWDER) == Served("a1", "dust", "morning", 0.3, "spoon", 36.0, 0.3, True)


def test_one_whole_measure_due_is_scaled_like_any_other_amount() -> None:
    served = as_served(due("a1", DUST, 0.5, 120.0), 2.0)

    assert (served.amount_mg, served.part) == (240.0, 1.0)


def test_what_is_left_out_is_recorded_at_its_own_tank_and_round() -> None:
    evening = replace(ROOM, rounds=(RoundTime("evening", time(19)),))
    past = Past().gave("a1", FLAKE, days_ago(1), 0.6).posted(TODAY, (replace(FLAKES, round="evening"),))
    (here,) = round_sheet(evening, past.history(), TODAY, TODAY, "evening").stops

    (left_out,) = finish_stop(here)

    assert isinstance(left_out, Skipped)
    assert (left_out.tank, left_out.feed, left_out.round) == ("a1", "flake", "evening")


def test_the_reason_kept_of_a_full_ration_is_what_was_taken_and_what_it_would_have_taken() -> None:
    kept = reason_of(Refusal("ration", "flake", TODAY, taken=0.1 + 0.2, part=2 / 3))

    assert kept.written() == {"code": "ration", "taken": 0.3, "part": 0.666667}


def test_the_reason_kept_of_leftovers_is_the_feed_the_day_they_were_seen_and_the_day_they_hold_until() -> None:
    kept = reason_of(Refusal("leftovers", "flake", TODAY, "wafer", days_ago(1), until=TODAY))

    assert kept.written() == {"code": "leftovers", "feed": "wafer", "on": "2026-11-24", "until": "2026-11-25"}


def test_a_typed_amount_of_what_is_not_due_counts_the_feeds_own_measures() -> None:
    """Half a spoon of 120 mg is 60 mg."""
    served = made(Past(), "dust", 0.5)

    assert (served.amount, served.unit, served.amount_mg, served.planned) == (0.5, "spoon", 60.0, False)


def test_twice_the_measures_of_what_is_not_due_take_twice_the_part() -> None:
    assert made(Past(), "dust", 1.0).part == pytest.approx(2 * made(Past(), "dust", 0.5).part)


def test_what_is_not_due_takes_what_the_day_has_left() -> None:
    usual = made(Past(), "film").part
    after_much = made(Past().gave("a1", DUST, TODAY, 0.8), "film").part

    assert after_much < usual


def test_the_rules_a_tank_has_for_a_feed_go_before_the_feeds_own() -> None:
    sparing = replace(DUST.rules, share=0.1, most=0.1)
    room = make_room(FEEDS, replace(make_tank("a1", FEEDS), feeds={"dust": sparing}))

    assert made(Past(), "dust", room=room).amount_mg < made(Past(), "dust").amount_mg


def test_a_typed_amount_of_what_is_due_takes_its_part_of_what_was_posted() -> None:
    served = made(posted(POWDER), "dust", 0.15)

    assert served == replace(as_served(POWDER), amount=0.15, amount_mg=18.0, part=0.15)


def test_what_is_given_of_a_serving_that_has_shrunk_is_what_the_stop_shows() -> None:
    past = posted(POWDER).gave("a1", FILM, TODAY, 0.8, planned=False)

    served, shown = made(past, "dust"), stop(past).servings[0].due

    assert served.amount == pytest.approx(shown.amount)
    assert served.amount_mg == pytest.approx(shown.amount_mg)
    assert shown.amount * 120 == pytest.approx(shown.amount_mg)
    assert 0 < shown.amount_mg < 36


def test_insisting_where_nothing_is_left_gives_what_was_posted() -> None:
    served = made(posted(POWDER).gave("a1", FILM, TODAY, 1.0, planned=False), "dust")

    assert served == replace(as_served(POWDER), broke="ration")


def test_a_feed_the_tank_does_not_take_is_given_by_the_feeds_own_rules() -> None:
    room = make_room(FEEDS, make_tank("a1", (FILM,)))

    served = made(Past(), "dust", room=room)

    assert (served.tank, served.feed, served.round) == ("a1", "dust", "morning")
    assert served.amount_mg > 0


def test_a_serving_that_is_refused_says_what_would_have_been_given() -> None:
    refused = give(ROOM, posted(POWDER).gave("a1", DUST, TODAY, 0.3).history(), TODAY, "a1", "dust", 0.3)

    assert isinstance(refused, Refusal)
    assert refused.serving == as_served(POWDER, 0.3)


def test_what_was_given_without_being_due_stands_at_its_stop_as_it_was_given() -> None:
    past = posted().gave("a1", WAFER, TODAY, 0.4, planned=False)

    (line,) = stop(past).servings

    assert line.due == replace(due("a1", WAFER, 0.4, 40.0), method="surface")
    assert (line.state, line.marked) == ("given", past.entries[0])


def test_what_was_given_of_a_feed_the_tank_no_longer_takes_was_placed() -> None:
    room = make_room(FEEDS, make_tank("a1", (DUST,)))

    (line,) = stop(posted().gave("a1", WAFER, TODAY, 0.4, planned=False), room).servings

    assert line.due.method == "placed"


def test_a_serving_held_back_does_not_hold_back_the_one_beside_it_and_takes_no_minutes() -> None:
    """Dust was given two days ago and waits three: film may be given, and only its minutes count."""
    slow = make_feed("dust", "powder", min_gap=3, minutes=4.0)
    film = make_feed("film", "biofilm", minutes=1.5)
    room = make_room((slow, film), make_tank("a1", (slow, film)))
    past = Past().gave("a1", slow, days_ago(2), 0.3)

    here = stop(past.posted(TODAY, (due("a1", slow, 0.6, 60.0), due("a1", film, 0.6, 60.0))), room)

    assert [(line.due.feed, line.held and line.held.rule) for line in here.servings] == [
        ("dust", "min_gap"),
        ("film", None),
    ]
    assert here.servings[0].held is not None and here.servings[0].held.serving == here.servings[0].due
    assert here.minutes_left == 1.5


def test_servings_that_are_too_much_together_share_the_ration() -> None:
    first, second = stop(posted(due("a1", DUST, 0.6, 60.0), due("a1", FILM, 0.6, 60.0))).servings

    assert first.held is second.held is None
    assert 0.9 < first.due.part + second.due.part <= 1.0


def test_a_serving_of_which_nothing_is_left_is_held_back_by_the_ration_with_what_was_taken() -> None:
    (powder, _) = stop(posted(POWDER).gave("a1", FILM, TODAY, 1.0, planned=False)).servings

    assert powder.held is not None
    assert (powder.held.rule, powder.held.feed, powder.held.day, powder.held.taken) == ("ration", "dust", TODAY, 1.0)


def test_after_midnight_the_last_of_three_rounds_is_still_walked() -> None:
    hours = {"morning": 7, "noon": 12, "night": 23}
    room = replace(ROOM, rounds=tuple(RoundTime(name, time(hour)) for name, hour in hours.items()))

    assert current_round(room, at(TODAY, 0, 30)) == "night"


def hatched(past: Past) -> Past:
    return past.write(Sighting("a1", "hatch", "shrimplet", 20, True), TODAY)


def test_a_hatch_seen_today_gets_a_usual_serving_of_the_first_fine_feed() -> None:
    assert fine_after_hatch(ROOM, hatched(Past()).history(), TODAY, "a1") == made(Past(), "dust")


def test_no_fine_feed_is_added_without_a_hatch_or_where_one_is_due_or_given() -> None:
    given = hatched(Past()).gave("a1", FILM, TODAY, 0.3, planned=False)

    for past in (Past(), hatched(posted(POWDER)), given):
        assert fine_after_hatch(ROOM, past.history(), TODAY, "a1") is None


def test_animals_counted_are_no_hatch() -> None:
    past = Past().write(Sighting("a1", "count", "shrimplet", 20, True), TODAY)

    assert fine_after_hatch(ROOM, past.history(), TODAY, "a1") is None


def test_after_a_hatch_a_fine_feed_that_a_rule_forbids_leaves_its_turn_to_the_next() -> None:
    slow = make_feed("dust", "powder", min_gap=3)
    room = make_room((slow, FILM), make_tank("a1", (slow, FILM)))
    past = hatched(Past().gave("a1", slow, days_ago(2), 0.3))

    found = fine_after_hatch(room, past.history(), TODAY, "a1")

    assert found is not None and found.feed == "film"
