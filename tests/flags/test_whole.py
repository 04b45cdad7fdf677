"""Each kind of flag as a whole: how bad, about what, on which evidence, with which advice and of which extent.

The pasts are worked out by hand: 100 mg are a serving of the whole ration (see `Past.gave`).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from schedules.history import History
from schedules.history.leave import LeaveDay
from schedules.ledger.entries import Leftovers, PostedServing, Sighting
from schedules.review.flags import Flag, FlagKind, flags
from schedules.review.flags.evidence import (
    Absent,
    Advice,
    Deaths,
    Given,
    Handled,
    Left,
    LeftTwice,
    TooSoon,
    Waiting,
    WeekOver,
)
from schedules.review.flags.too_much import FAR_OVER
from schedules.room import Feed, Presence, Room
from tests.amounts.rooms import TODAY, Past, at, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
WAFER = make_feed("wafer", "staple", min_gap=3)
FLAKE = make_feed("flake", "staple")
FEEDS = (DUST, WAFER, FLAKE)
TANK = make_tank("a1", FEEDS)
ROOM = make_room(FEEDS, TANK, make_tank("a2", FEEDS))


def of(kind: FlagKind, past: Past, room: Room = ROOM) -> list[Flag]:
    return [flag for flag in flags(room, past.history(), at(TODAY)) if flag.kind == kind]


def only(kind: FlagKind, past: Past, room: Room = ROOM) -> Flag:
    (found,) = of(kind, past, room)
    return found


def test_a_day_over_its_ration() -> None:
    past = Past().gave("a1", WAFER, TODAY, 0.875).gave("a1", FLAKE, TODAY, 0.75)
    evidence = Given(tuple(past.entries), 1.625)
    expected = Flag("over_ration", "high", "a1", None, TODAY, evidence, "stop_today", 1.625)
    assert only("over_ration", past) == expected


def test_exactly_what_is_far_over_is_not_far_over_yet() -> None:
    assert only("over_ration", Past().gave("a1", WAFER, TODAY, FAR_OVER)).severity == "medium"


@pytest.mark.parametrize(("feed", "advice"), [(DUST, "pause_fine_or_undo"), (WAFER, "take_out_or_undo")])
def test_a_feed_given_twice_in_a_round(feed: Feed, advice: str) -> None:
    past = Past().gave("a1", feed, days_ago(1), 0.2).gave("a1", feed, days_ago(1), 0.2)
    found = only("doubled", past)
    assert (found.severity, found.tank, found.feed, found.day) == ("high", "a1", feed.id, days_ago(1))
    assert (found.evidence, found.advice, found.extent) == (Given(tuple(past.entries), round="morning"), advice, 2)


def test_a_feed_given_once_before_one_that_was_doubled_hides_nothing() -> None:
    past = Past().gave("a1", FLAKE, TODAY, 0.1).gave("a1", DUST, TODAY, 0.1).gave("a1", DUST, TODAY, 0.1)
    assert only("doubled", past).feed == "dust"


def test_two_servings_under_the_gap_of_their_feed() -> None:
    past = Past().gave("a1", WAFER, days_ago(2), 0.5).gave("a1", WAFER, days_ago(1), 0.5)
    earlier, later = past.entries
    evidence = TooSoon(later, earlier, days_ago(2), 1, 3)
    assert only("under_gap", past) == Flag(
        "under_gap", "medium", "a1", "wafer", days_ago(1), evidence, "let_next_go", 2
    )


def test_a_serving_too_soon_after_one_that_lies_further_back_than_the_history() -> None:
    rare = make_feed("rare", "staple", min_gap=200)
    room = make_room((rare,), make_tank("a1", (rare,)))
    past = Past().gave("a1", rare, days_ago(150), 0.5).gave("a1", rare, TODAY, 0.5)
    evidence = TooSoon(past.entries[1], None, days_ago(150), 150, 200)
    expected = Flag("under_gap", "medium", "a1", "rare", TODAY, evidence, "let_next_go", 50)
    assert only("under_gap", past, room) == expected
    assert of("under_gap", Past().gave("a1", rare, days_ago(150), 0.5).gave("a1", rare, days_ago(9), 0.5), room) == []


def test_fine_feed_too_soon_is_let_go_only_if_the_water_is_hazy() -> None:
    slow = make_feed("slow", "powder", min_gap=3)
    room = make_room((slow,), make_tank("a1", (slow,)))
    past = Past().gave("a1", slow, days_ago(1), 0.2).gave("a1", slow, TODAY, 0.2)
    assert only("under_gap", past, room).advice == "let_next_go_if_hazy"


TURNS = (
    make_feed("flake", "staple"),
    make_feed("grub", "staple", min_gap=2),
    make_feed("worm", "protein"),
    make_feed("leaf", "greens"),
)
"""With so many sorts of solid feed each need can keep its usual gap."""
IN_TURN = make_room(TURNS, make_tank("a1", TURNS))


def test_two_feeds_of_one_need_under_its_gap() -> None:
    past = Past().gave("a1", TURNS[1], days_ago(1), 0.3).gave("a1", TURNS[0], TODAY, 0.3)
    evidence = TooSoon(past.entries[1], past.entries[0], days_ago(1), 1, 2)
    expected = Flag("under_clock_gap", "medium", "a1", "flake", TODAY, evidence, "pause_sort", 1)
    assert only("under_clock_gap", past, IN_TURN) == expected


def test_the_same_feed_on_its_own_gap_but_under_that_of_its_need() -> None:
    past = Past().gave("a1", TURNS[0], days_ago(1), 0.3).gave("a1", TURNS[0], TODAY, 0.3)
    found = [flag.kind for flag in flags(IN_TURN, past.history(), at(TODAY)) if "gap" in flag.kind]
    assert found == ["under_clock_gap"]


def test_the_same_feed_under_its_own_gap_is_said_once() -> None:
    past = Past().gave("a1", TURNS[1], days_ago(1), 0.3).gave("a1", TURNS[1], TODAY, 0.3)
    found = [flag.kind for flag in flags(IN_TURN, past.history(), at(TODAY)) if "gap" in flag.kind]
    assert found == ["under_gap"]


@pytest.mark.parametrize(("monday_ago", "advice"), [(2, "leave_out_this_week"), (9, "keep_to_plan")])
def test_a_need_answered_on_too_many_days_of_a_week(monday_ago: int, advice: Advice) -> None:
    """23 November 2026 is a Monday. Two needs have this target: the feed's own and that of its table; both count."""
    slow = make_feed("slow", "staple", per_week=1.0)
    room = make_room((slow,), make_tank("a1", (slow,)))
    days = tuple(days_ago(monday_ago - number) for number in range(3))
    past = Past()
    for day in days:
        past.gave("a1", slow, day, 0.1)
    found = next(flag for flag in of("week_over_target", past, room) if flag.evidence.target == 1)  # type: ignore[union-attr]
    evidence = WeekOver(days[0], days, ("slow",), 1.0)
    assert found == Flag("week_over_target", "low", "a1", "slow", days[-1], evidence, advice, 6)


@pytest.mark.parametrize(
    ("feed", "left", "severity", "advice"),
    [
        (WAFER, "some", "low", "take_out"),
        (WAFER, "most", "medium", "take_out_and_hold"),
        (DUST, "some", "low", "pause_fine_and_cut"),
        (DUST, "most", "medium", "pause_fine_and_cut"),
    ],
)
def test_leftovers(feed: Feed, left: Leftovers, severity: str, advice: str) -> None:
    past = Past().gave("a1", feed, days_ago(1), 0.3).saw("a1", feed, days_ago(1), left)
    found = only("leftovers", past)
    assert (found.severity, found.feed, found.day, found.advice) == (severity, feed.id, days_ago(1), advice)
    assert (found.evidence, found.extent) == (Left(past.entries[1]), 1)


def test_of_several_reports_of_a_day_the_worst_is_shown_and_all_are_counted() -> None:
    past = Past().gave("a1", WAFER, TODAY, 0.3)
    reports: tuple[Leftovers, ...] = ("some", "none", "most", "some")
    for left in reports:
        past.saw("a1", WAFER, TODAY, left)
    found = only("leftovers", past)
    assert (found.evidence, found.extent) == (Left(past.entries[3]), 3)


@pytest.mark.parametrize(("first", "second", "extent"), [("some", "some", 1), ("most", "some", 2), ("most", "most", 3)])
def test_leftovers_of_two_servings_running(first: Leftovers, second: Leftovers, extent: int) -> None:
    past = Past().gave("a1", WAFER, days_ago(6), 0.5).saw("a1", WAFER, days_ago(6), first)
    past.gave("a1", WAFER, days_ago(3), 0.75).saw("a1", WAFER, days_ago(3), second)
    evidence = LeftTwice(past.entries[0], past.entries[2], first, second, 1.5)
    expected = Flag("leftovers_twice", "high", "a1", "wafer", days_ago(3), evidence, "leave_out_once", extent)
    assert only("leftovers_twice", past) == expected


@pytest.mark.parametrize(("feed", "advice"), [(WAFER, "give_as_planned"), (DUST, "give_as_planned_watch_haze")])
def test_more_given_after_leftovers(feed: Feed, advice: str) -> None:
    past = Past().gave("a1", feed, days_ago(6), 0.5).saw("a1", feed, days_ago(6), "most")
    past.gave("a1", feed, days_ago(3), 0.75)
    found = only("raised_after_leftovers", past)
    evidence = LeftTwice(past.entries[0], past.entries[2], "most", None, 1.5)
    assert (found.severity, found.evidence, found.advice) == ("medium", evidence, advice)
    assert (found.feed, found.day, found.extent) == (feed.id, days_ago(3), 1.5)


def test_of_two_feeds_that_left_something_the_later_one_is_found_too() -> None:
    past = Past()
    for feed in (WAFER, FLAKE):
        past.gave("a1", feed, days_ago(6), 0.2).saw("a1", feed, days_ago(6), "some")
    past.gave("a1", FLAKE, days_ago(3), 0.4)
    assert only("raised_after_leftovers", past).feed == "flake"


def test_powder_strewn_on_still_water() -> None:
    strewn = make_feed("strewn", "powder", method="surface")
    still = make_tank("a2", (strewn,), surface="still")
    room = make_room((strewn,), make_tank("a1", (strewn,)), still)
    past = Past().gave("a1", strewn, TODAY, 0.2).gave("a2", strewn, TODAY, 0.2)
    evidence = Handled(past.entries[1])
    expected = Flag("powder_on_still", "low", "a2", "strewn", TODAY, evidence, "stir_first")
    assert only("powder_on_still", past, room) == expected


def test_feed_past_its_date() -> None:
    old = make_feed("old", "staple", best_before=days_ago(3))
    room = make_room((old,), make_tank("a1", (old,)))
    past = Past().gave("a1", old, TODAY, 0.2)
    evidence = Handled(past.entries[0], best_before=days_ago(3))
    assert only("past_date", past, room) == Flag("past_date", "low", "a1", "old", TODAY, evidence, "open_fresh")
    assert of("past_date", Past().gave("a1", old, days_ago(3), 0.2), room) == [], "its last good day"


def test_powder_given_while_what_draws_was_left_out() -> None:
    day = (due("a1", DUST, 0.3, 30), due("a1", WAFER, 0.6, 60))
    past = Past().posted(days_ago(4), day, day, day, day).gave("a1", DUST, days_ago(4), 0.3)
    past.gave("a1", DUST, days_ago(2), 0.3)
    evidence = Handled(past.entries[1], 40, 2, days_ago(4))
    expected = Flag("unaccompanied", "low", "a1", "dust", days_ago(2), evidence, "draw_first")
    assert only("unaccompanied", past) == expected


@pytest.mark.parametrize(
    ("feed", "times", "severity", "advice", "extent"),
    [
        (DUST, 3.0, "medium", "undo_slip_or_pause_fine", 3.0),
        (WAFER, 3.0, "medium", "undo_slip_or_look", 3.0),
        (WAFER, 0.25, "low", "undo_slip", 0.75),
        (DUST, 0.25, "low", "undo_slip", 0.75),
    ],
)
def test_an_amount_far_from_what_was_planned(
    feed: Feed, times: float, severity: str, advice: str, extent: float
) -> None:
    """Three times as much is far; exactly a third of it too."""
    planned = due("a1", feed, 0.1, 120)
    past = Past().posted(TODAY, (planned,)).gave("a1", feed, TODAY, 0.1 * times, amount_mg=120 * times)
    found = only("far_from_planned", past)
    evidence = Handled(past.entries[0], planned=planned, times=times)
    assert (found.severity, found.evidence, found.advice, found.extent) == (severity, evidence, advice, extent)


def test_an_amount_within_three_times_is_none_and_hides_no_other() -> None:
    planned = (due("a1", WAFER, 0.1, 120), due("a1", FLAKE, 0.1, 120))
    past = Past().posted(TODAY, planned).gave("a1", WAFER, TODAY, 0.1, amount_mg=50.0)
    past.gave("a1", DUST, TODAY, 0.1).gave("a1", FLAKE, TODAY, 0.1, amount_mg=400.0)
    assert only("far_from_planned", past).feed == "flake"


def test_more_than_planned_is_far_also_beside_an_extra_feeding() -> None:
    past = Past().posted(TODAY, (due("a1", DUST, 0.1, 100),)).gave("a1", WAFER, TODAY, 0.1, planned=False)
    past.gave("a1", DUST, TODAY, 0.3, amount_mg=400.0)
    assert only("far_from_planned", past).feed == "dust"


def test_a_need_that_waits() -> None:
    room = make_room((DUST,), make_tank("a1", (DUST,)), make_tank("a2", (DUST,)))
    past = Past().gave("a1", DUST, days_ago(1), 0.3).gave("a2", DUST, days_ago(5), 0.3)
    evidence = Waiting(5, days_ago(5), 2, "shrimplet", 60, ("dust",))
    expected = Flag("no_fine_feed", "high", "a2", None, TODAY, evidence, "give_next_round", 5)
    assert only("no_fine_feed", past, room) == expected


def test_the_last_shrimplet_waits_too() -> None:
    one = make_tank("a1", (DUST,), animals=(Presence("shrimplet", 1),))
    assert len(of("no_fine_feed", Past().gave("a1", DUST, days_ago(5), 0.3), make_room((DUST,), one))) == 1


def test_a_tank_that_got_nothing() -> None:
    room = make_room((WAFER,), make_tank("a0", ()), make_tank("a1", (WAFER,)))
    past = Past().gave("a1", WAFER, days_ago(6), 0.3)
    expected = Flag("nothing_given", "medium", "a1", None, TODAY, Waiting(6, days_ago(6)), "feed_or_note", 6)
    assert only("nothing_given", past, room) == expected
    assert of("nothing_given", past.gave("a1", WAFER, TODAY, 0.3), room) == []


def test_a_tank_that_never_got_anything_counts_from_the_ledgers_first_day() -> None:
    past = Past().gave("a2", WAFER, days_ago(5), 0.3).gave("a2", WAFER, TODAY, 0.3)
    found = only("nothing_given", past)
    assert (found.tank, found.evidence) == ("a1", Waiting(6, None))
    assert of("nothing_given", Past().gave("a2", WAFER, days_ago(3), 0.3)) == []


def test_nobody_came_in_a_rack() -> None:
    past = Past().came("a1", WAFER, TODAY, "nobody")
    assert of("nobody_came", past) == [], "one alone is appetite"
    past.gave("a2", WAFER, TODAY, 0.3, round="evening").came("a2", WAFER, TODAY, "nobody")
    assert of("nobody_came", past) == [], "one in each round"
    past.came("a2", DUST, TODAY, "nobody")
    evidence = Absent((past.entries[0], past.entries[3]), "rack", "morning")
    assert only("nobody_came", past) == Flag("nobody_came", "high", "a2", None, TODAY, evidence, "look_at_water", 2)


def test_deaths_in_a_tank() -> None:
    past = Past()
    for ago, heads in ((4, 2), (1, 3)):
        past.write(Sighting("a1", "dead", "adult", heads, True), days_ago(ago))
    evidence = Deaths(tuple(past.entries), 5)
    assert only("deaths", past) == Flag("deaths", "high", "a1", None, days_ago(1), evidence, "look_what_changed", 5)


def test_flags_come_worst_first_then_the_newest_then_in_walking_order() -> None:
    past = Past()
    for tank in ("a2", "a1"):
        for ago in (3, 0):
            past.gave(tank, WAFER, days_ago(ago), 0.1).saw(tank, WAFER, days_ago(ago), "some")
    found = [(flag.day, flag.tank) for flag in flags(ROOM, past.history(), at(TODAY)) if flag.kind == "leftovers"]
    assert found == [(TODAY, "a1"), (TODAY, "a2"), (days_ago(3), "a1"), (days_ago(3), "a2")]


def test_a_week_back_is_looked_at_and_no_further() -> None:
    past = Past().gave("a1", WAFER, days_ago(8), 0.1).saw("a1", WAFER, days_ago(8), "some")
    assert of("leftovers", past) == []
    past = Past().gave("a1", WAFER, days_ago(7), 0.1).saw("a1", WAFER, days_ago(7), "some")
    assert len(of("leftovers", past)) == 1


def test_tanks_have_their_own_rules() -> None:
    own = replace(TANK, feeds={**TANK.feeds, "flake": replace(FLAKE.rules, min_gap=4)})
    past = Past().gave("a1", FLAKE, days_ago(3), 0.1).gave("a1", FLAKE, TODAY, 0.1)
    assert only("under_gap", past, make_room(FEEDS, own)).extent == 1
    assert of("under_gap", past) == []


def away(past: Past, *ago: int, due_too: tuple[PostedServing, ...] = ()) -> History:
    """The same past with a leave plan on some days that leaves out all but what is named."""
    return replace(past.history(), leave={days_ago(each): LeaveDay("Ole", due_too, 1) for each in ago})


@pytest.mark.parametrize("kind", ["no_fine_feed", "nothing_given"])
def test_days_on_which_a_leave_plan_leaves_a_tank_out_are_not_waited(kind: FlagKind) -> None:
    """Six days since the last serving, of which four were left out on purpose: two are within any longest gap."""
    room = make_room((DUST,), make_tank("a1", (DUST,)))
    past = Past().gave("a1", DUST, days_ago(6), 0.3)
    still = (due("a1", DUST, 0.3, 30),)
    past.posted(days_ago(6), (), (), (), (), (), (), still)

    def found(history: History) -> list[Flag]:
        return [flag for flag in flags(room, history, at(TODAY)) if flag.kind == kind]

    assert [flag.extent for flag in found(past.history())] == [6]
    assert found(away(past, 5, 4, 3, 2)) == []
    assert [flag.extent for flag in found(away(past, 5, 4, 3, 2, due_too=still))] == [6], "it was due and not given"
