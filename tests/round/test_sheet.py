"""The round sheet is what was posted, with what was marked since."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, time, timedelta

from schedules.amounts import DrawOff
from schedules.ledger import Reason, Served, Skipped
from schedules.room import Rack, RoundTime
from schedules.round import RoundSheet, current_round, finish_stop, round_sheet
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
FLAKE = make_feed("flake", "staple", min_gap=2)
FEEDS = (DUST, FLAKE)
TANKS = (make_tank("q1", FEEDS, quarantine=True), *(make_tank(tank, FEEDS) for tank in ("a1", "a2", "a3")))
ROOM = make_room(FEEDS, *TANKS)


def posted() -> Past:
    """Yesterday and today: dust and flake in a1, dust in a2 and in quarantine, nothing in a3."""
    day = (due("q1", DUST, 0.3, 36), due("a1", DUST, 0.3, 36), due("a1", FLAKE, 0.6, 60), due("a2", DUST, 0.3, 36))
    return Past().posted(days_ago(1), day, day, day)


def sheet(past: Past, day: int = 0) -> RoundSheet:
    on = TODAY + timedelta(days=day)
    return round_sheet(ROOM, past.history(), TODAY, on, "morning")


def states(made: RoundSheet) -> list[tuple[str | None, str, str]]:
    return [(stop.tank, each.due.feed, each.state) for stop in made.stops for each in stop.servings]


def test_stops_come_in_walking_order_quarantine_last_and_only_where_something_is_due() -> None:
    assert [stop.tank for stop in sheet(posted()).stops] == ["a1", "a2", "q1"]


def test_what_was_given_and_skipped_is_told_from_what_is_due() -> None:
    past = posted().gave("a1", DUST, TODAY, 0.3).write(Skipped("a1", "flake", "morning", Reason.other("cloudy")), TODAY)

    assert states(sheet(past))[:3] == [("a1", "flake", "skipped"), ("a1", "dust", "given"), ("a2", "dust", "due")]


def test_what_is_open_on_a_past_day_was_missed() -> None:
    past = posted().gave("a1", DUST, days_ago(1), 0.3)

    assert states(sheet(past, -1))[:3] == [("a1", "flake", "missed"), ("a1", "dust", "given"), ("a2", "dust", "missed")]


def test_what_was_due_on_a_past_day_stays_what_was_posted_then() -> None:
    past = posted()
    past.posted(TODAY, (due("a2", FLAKE, 0.6, 60),))

    assert states(sheet(past, -1)) == states(sheet(posted(), -1))
    assert states(sheet(past)) == [("a2", "flake", "due")]


def test_a_feed_given_without_being_due_shows_at_its_stop() -> None:
    past = posted().gave("a2", FLAKE, TODAY, 0.3, planned=False)

    stop = next(stop for stop in sheet(past).stops if stop.tank == "a2")
    assert [(each.due.feed, each.planned) for each in stop.servings] == [("dust", True), ("flake", False)]


def test_a_day_without_a_posting_is_told_from_a_day_with_nothing_due() -> None:
    assert not sheet(posted(), 9).posted
    assert sheet(posted()).posted


def test_an_extra_feeding_shrinks_what_is_still_to_come_and_says_so() -> None:
    past = posted().gave("a1", make_feed("film", "biofilm"), TODAY, 0.8, planned=False)

    dust = sheet(past).stops[0].servings[1]
    assert dust.due.amount_mg < 36
    assert dust.shrunk is not None
    assert dust.shrunk.took == (("film", 0.8),)


def test_what_draws_the_adults_is_given_before_the_powder_and_powder_alone_says_that_they_share_it() -> None:
    stops = {stop.tank: stop for stop in sheet(posted()).stops}

    assert [each.due.feed for each in stops["a1"].servings] == ["flake", "dust"]
    assert stops["a1"].draw_off == DrawOff("flake", 40, 3)
    assert stops["a2"].draw_off == DrawOff(None, 40, 3)


def test_once_the_drawing_feed_or_the_powder_is_settled_nobody_has_to_be_drawn_off() -> None:
    drawn = posted().gave("a1", FLAKE, TODAY, 0.6)
    no_powder = posted().write(Skipped("a1", "dust", "morning", Reason.other("cloudy")), TODAY)

    assert sheet(drawn).stops[0].draw_off is None
    assert sheet(no_powder).stops[0].draw_off is None


def test_where_the_drawing_feed_is_left_out_the_adults_share_the_powder() -> None:
    past = posted().write(Skipped("a1", "flake", "morning", Reason.other("out of it")), TODAY)

    assert sheet(past).stops[0].draw_off == DrawOff(None, 40, 3)


def test_a_stop_is_finished_by_giving_what_is_due_and_leaving_out_what_is_held_back() -> None:
    past = posted().gave("a1", FLAKE, days_ago(1), 0.6)

    stop = sheet(past).stops[0]
    left_out, given = finish_stop(stop)

    assert isinstance(given, Served) and given.feed == "dust" and given.broke is None
    assert isinstance(left_out, Skipped) and left_out.feed == "flake"
    assert (left_out.because.code, left_out.because.get("gap")) == ("min_gap", 2)


def test_the_next_open_stop_lies_after_the_one_at_hand_and_then_from_the_start() -> None:
    past = posted().gave("a2", DUST, TODAY, 0.3)
    made = sheet(past)

    assert made.next_open() == 0
    assert made.next_open(0) == 2
    assert made.next_open(2) == 0
    assert made.done == 1


def test_a_finished_round_has_no_next_stop_and_no_minutes_left() -> None:
    past = posted()
    for tank, feed in (("a1", DUST), ("a1", FLAKE), ("a2", DUST), ("q1", DUST)):
        past.gave(tank, feed, TODAY, 0.3)
    made = sheet(past)

    assert (made.next_open(), made.minutes_left, made.done) == (None, 0, 3)


def test_the_round_to_walk_is_the_last_one_whose_time_has_come() -> None:
    room = replace(ROOM, rounds=(RoundTime("morning", time(7)), RoundTime("evening", time(19))))

    def at(hour: int) -> str:
        return current_round(room, datetime(2026, 11, 25, hour, tzinfo=UTC))  # Vienna is an hour ahead

    assert [at(4), at(6), at(17), at(18)] == ["morning", "morning", "morning", "evening"]


def test_a_tank_that_left_the_room_is_no_stop() -> None:
    tanks = {tank: ROOM.tanks[tank] for tank in ("a2", "q1")}
    room = replace(ROOM, tanks=tanks, racks=(Rack("r", "R", ("a2", "q1")),))

    made = round_sheet(room, posted().history(), TODAY, TODAY, "morning")

    assert [stop.tank for stop in made.stops] == ["a2", "q1"]


def test_a_late_round_opened_again_after_midnight_is_still_that_days_round() -> None:
    room = replace(ROOM, rounds=(RoundTime("morning", time(7)), RoundTime("night", time(23))))
    after_midnight = datetime(2026, 11, 25, 23, 40, tzinfo=UTC)  # 00:40 of the 26th in Vienna

    assert (room.day(after_midnight), current_round(room, after_midnight)) == (TODAY, "night")


def test_a_round_that_is_long_over_leaves_the_night_to_the_next_day() -> None:
    room = replace(ROOM, rounds=(RoundTime("morning", time(7)), RoundTime("night", time(23))))
    before_dawn = datetime(2026, 11, 26, 3, tzinfo=UTC)

    assert (room.day(before_dawn), current_round(room, before_dawn)) == (TODAY + timedelta(days=1), "morning")
