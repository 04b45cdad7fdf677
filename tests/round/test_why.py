"""Why a feed is due, and every value that a line of the sheet and a refusal show."""

from __future__ import annotations

from dataclasses import replace

from schedules.room import Presence
from schedules.round import Refusal, refusal, round_sheet
from schedules.round.types import Why
from schedules.round.why import why_due
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
FLAKE = make_feed("flake", "staple")
FEEDS = (DUST, FLAKE)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS))
POWDER, FLAKES = due("a1", DUST, 0.3, 36.0), due("a1", FLAKE, 0.6, 60.0)


def why(past: Past, feed: str = "dust", *beside: str) -> Why:
    servings = {"dust": POWDER, "flake": FLAKES}
    return why_due(ROOM, past.history(), "a1", feed, TODAY, [servings[each] for each in beside])


def test_a_feed_is_due_by_the_days_since_its_last_answer_and_by_its_place_in_the_week_from_monday() -> None:
    """Today is a Wednesday: what was given on Sunday belongs to the week before, what is given today is not over."""
    past = Past().gave("a1", DUST, days_ago(3), 0.3).gave("a1", DUST, days_ago(2), 0.3).gave("a1", DUST, TODAY, 0.3)

    found = why(past)

    assert (found.code, found.need, found.days_ago, found.max_gap) == ("due", "fine", 2, 2)
    assert (found.this_week, found.per_week) == (1, 5)


def test_a_need_that_was_never_answered_has_no_days() -> None:
    found = why(Past())

    assert (found.code, found.days_ago, found.this_week) == ("due", None, 0)


def test_a_feed_draws_adults_away_only_beside_a_powder_and_where_adults_are() -> None:
    young = make_room(FEEDS, make_tank("a1", FEEDS, animals=(Presence("shrimplet", 60),)))

    assert why(Past(), "flake", "dust", "flake").draws is True
    assert why(Past(), "flake", "flake").draws is False
    assert why(Past(), "dust", "dust", "flake").draws is False
    assert why_due(young, Past().history(), "a1", "flake", TODAY, [POWDER]).draws is False


def test_a_feed_out_of_stock_or_not_taken_by_the_tank_has_no_reason_to_be_due() -> None:
    not_taken = make_room(FEEDS, make_tank("a1", (FLAKE,)))

    assert why(Past(), "gone") == Why("no_feed")
    assert why_due(not_taken, Past().history(), "a1", "dust", TODAY, []) == Why("no_feed")


def test_a_line_names_its_feed_and_why_it_is_due() -> None:
    past = Past().posted(TODAY, (POWDER, FLAKES))
    sheet = round_sheet(ROOM, past.history(), TODAY, TODAY, "morning")

    (stop,) = sheet.stops

    assert (sheet.day, sheet.round) == (TODAY, "morning")
    assert [(line.feed_name, line.why) for line in stop.servings] == [
        ("Flake", why(past, "flake", "dust", "flake")),
        ("Dust", why(past, "dust", "dust", "flake")),
    ]


def test_a_feed_that_left_the_stock_keeps_its_id_for_a_name_and_takes_no_minutes() -> None:
    room = make_room((FLAKE,), make_tank("a1", (FLAKE,)))
    past = Past().posted(TODAY, (POWDER,))

    ((line,),) = (stop.servings for stop in round_sheet(room, past.history(), TODAY, TODAY, "morning").stops)

    assert (line.feed_name, line.minutes, line.why) == ("dust", 0.0, Why("no_feed"))


def test_a_refusal_names_its_feed_and_day_and_the_serving_in_its_way() -> None:
    past = Past().gave("a1", DUST, TODAY, 0.3).gave("a1", FLAKE, TODAY, 0.9)
    dust, flake = past.entries

    assert refusal(ROOM, past.history(), "a1", "dust", TODAY, 0.3) == Refusal(
        "again", "dust", TODAY, "dust", TODAY, dust
    )
    wafer = make_feed("wafer", "protein")
    room = make_room((*FEEDS, wafer), make_tank("a1", (*FEEDS, wafer)))
    found = refusal(room, past.history(), "a1", "wafer", TODAY, 1.5)
    assert found == replace(Refusal("ration", "wafer", TODAY, entry=flake, part=1.5), taken=found.taken if found else 0)


def test_the_nearest_serving_within_a_gap_is_named_and_not_the_oldest() -> None:
    slow = make_feed("dust", "powder", min_gap=5)
    room = make_room((slow,), make_tank("a1", (slow,)))
    past = Past().gave("a1", slow, days_ago(4), 0.3).gave("a1", slow, days_ago(1), 0.3)

    found = refusal(room, past.history(), "a1", "dust", TODAY, 0.3)

    assert found is not None and (found.on, found.gap) == (days_ago(1), 5)


def test_a_gap_longer_than_the_ledger_looks_back_is_kept_without_saying_who_gave_it() -> None:
    slow = make_feed("dust", "powder", min_gap=40)
    room = make_room((slow,), make_tank("a1", (slow,)))

    found = refusal(room, Past().gave("a1", slow, days_ago(35), 0.3).history(), "a1", "dust", TODAY, 0.3)

    assert found == Refusal("min_gap", "dust", TODAY, "dust", days_ago(35), None, 40)


def test_adults_are_drawn_off_by_the_animals_that_are_in_the_tank_on_that_day() -> None:
    """Thirty adults moved out yesterday, ten stay; in the other tank the shrimplets have grown."""
    leaving, staying = Presence("adult", 30, last=days_ago(1)), Presence("adult", 10)
    young, grown = Presence("shrimplet", 60), Presence("shrimplet", 60, last=days_ago(1))
    tanks = (
        make_tank("a1", FEEDS, animals=(leaving, staying, young)),
        make_tank("a2", FEEDS, animals=(staying, grown)),
        make_tank("a3", FEEDS, animals=(leaving, young)),
    )
    room = make_room(FEEDS, *tanks)
    past = Past().posted(TODAY, tuple(due(tank.id, feed, 0.3, 36.0) for tank in tanks for feed in FEEDS))

    first, second, third = round_sheet(room, past.history(), TODAY, TODAY, "morning").stops

    assert first.draw_off is not None and first.draw_off.adults == 10
    assert second.draw_off is third.draw_off is None
    assert [line.due.feed for line in second.servings] == ["dust", "flake"]
    assert not any(line.why.draws for line in third.servings)
