"""The planning problem is what the room and its ledger say, numbered from the plan's first day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from schedules.ledger import PostedServing
from schedules.planning.problem.build import build_problem, with_posted
from schedules.planning.problem.calendar import weeks
from schedules.planning.problem.types import Clock, LastAnswer, Slot, TankProblem
from schedules.room import Feed, Keeper, Presence, Tank
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
FLAKE = make_feed("flake", "staple")
WAFER = make_feed("wafer", "staple")
FEEDS = (DUST, FLAKE, WAFER)
ADULTS = Presence("adult", 300)
WEDNESDAY = TODAY
"""TODAY is a Wednesday (ISO 8601: 2026-W48-3)."""


def tank_of(past: Past, start: date = TODAY, days: int = 7, tank: Tank | None = None) -> TankProblem:
    room = make_room(FEEDS, tank or make_tank("a1", FEEDS))
    return build_problem(room, past.history(), start, days).tanks["a1"]


def fine_of(past: Past, start: date) -> Clock:
    return tank_of(past, start).clocks["fine"]


def test_a_clock_is_wanted_while_its_animals_are_in_the_tank() -> None:
    window = Presence("shrimplet", 30, first=TODAY + timedelta(days=3), last=TODAY + timedelta(days=5))
    found = tank_of(Past(), days=14, tank=make_tank("a1", FEEDS, animals=(ADULTS, window)))

    assert found.clocks["first_fine"].wanted == (3, 4, 5)
    assert found.clocks["first_fine"].wanted_since is None
    assert found.clocks["ground"].wanted == tuple(range(14))
    assert found.feeds["dust"].open == (3, 4, 5)
    assert found.adults == tuple(range(14))


def test_what_no_day_wants_is_left_out() -> None:
    found = tank_of(Past(), tank=make_tank("a1", FEEDS, animals=(Presence("shrimplet", 10),)))

    assert set(found.feeds) == {"dust"}
    assert set(found.clocks) == {"fine", "powder"}


def test_a_rest_day_is_closed_to_feeds_of_the_ground_table_only() -> None:
    feeds = (*FEEDS, make_feed("drift", "suspension"))
    animals = (ADULTS, Presence("shrimplet", 30), Presence("filter_feeder", 3))
    tank = make_tank("a1", feeds, rest_weekday=6, animals=animals)
    found = build_problem(make_room(feeds, tank), Past().history(), WEDNESDAY, 7).tanks["a1"]

    assert 4 not in found.feeds["flake"].open
    assert found.feeds["dust"].open == found.feeds["drift"].open == tuple(range(7))
    assert found.clocks["ground"].wanted == tuple(range(7))


def test_a_day_off_of_every_keeper_is_closed_except_to_feeds_given_even_then() -> None:
    dust, film = make_feed("dust", "powder", even_on_days_off=True), make_feed("film", "biofilm")
    room = make_room((dust, film), make_tank("a1", (dust, film)))
    off = frozenset((TODAY + timedelta(days=1),))
    room = replace(room, keepers=(Keeper("Mara", off_dates=off), Keeper("Ole", off_dates=off)))

    feeds = build_problem(room, Past().history(), TODAY, 4).tanks["a1"].feeds

    assert feeds["film"].open == (0, 2, 3)
    assert feeds["dust"].open == (0, 1, 2, 3)


def test_a_day_off_of_one_keeper_closes_nothing_while_another_is_there() -> None:
    room = make_room((FLAKE,), make_tank("a1", (FLAKE,)))
    room = replace(room, keepers=(Keeper("Mara", off_dates=frozenset((TODAY,))), Keeper("Ole")))

    assert build_problem(room, Past().history(), TODAY, 3).tanks["a1"].feeds["flake"].open == (0, 1, 2)


def test_the_last_servings_come_from_the_ledger_also_those_of_a_clock() -> None:
    past = Past().gave("a1", FLAKE, days_ago(5), 0.5).gave("a1", WAFER, days_ago(2), 0.5)
    found = tank_of(past)

    assert (found.feeds["flake"].last, found.feeds["wafer"].last, found.feeds["dust"].last) == (-5, -2, None)
    assert found.clocks["staple"].last == found.clocks["ground"].last == LastAnswer(-2, "wafer")
    assert found.clocks["fine"].last is None


def test_of_two_servings_on_the_last_day_the_last_in_order_of_id_counts() -> None:
    past = Past().gave("a1", WAFER, days_ago(2), 0.5).gave("a1", FLAKE, days_ago(2), 0.5)

    assert tank_of(past).clocks["staple"].last == LastAnswer(-2, "wafer")


def test_a_feed_no_longer_given_to_the_tank_still_counts_as_the_clocks_last() -> None:
    past = Past().gave("a1", WAFER, days_ago(1), 0.5)

    assert tank_of(past, tank=make_tank("a1", (DUST, FLAKE))).clocks["staple"].last == LastAnswer(-1, "wafer")


def test_the_days_answered_since_monday_count_for_the_week_each_once() -> None:
    past = Past()
    for ago in (1, 1, 2, 3):  # Tuesday twice, Monday, and the Sunday of the week before
        past.gave("a1", DUST, days_ago(ago), 0.3)

    fine = fine_of(past, WEDNESDAY)

    assert (fine.earlier_days, fine.earlier_wanted) == (2, 2)


def test_a_day_on_which_nobody_needed_it_does_not_count_for_the_week() -> None:
    past = Past().gave("a1", DUST, days_ago(2), 0.3).gave("a1", DUST, days_ago(1), 0.3)
    young = Presence("shrimplet", 9, first=days_ago(1), hatched=days_ago(30))

    fine = tank_of(past, tank=make_tank("a1", FEEDS, animals=(young,))).clocks["fine"]

    assert (fine.earlier_days, fine.earlier_wanted) == (1, 1)


def test_a_plan_that_starts_on_a_monday_has_no_earlier_days_this_week() -> None:
    fine = fine_of(Past().gave("a1", DUST, days_ago(3), 0.3), TODAY + timedelta(days=5))

    assert (fine.earlier_days, fine.earlier_wanted) == (0, 0)


def test_a_room_that_begins_its_ledger_is_not_in_debt() -> None:
    ground = tank_of(Past(), WEDNESDAY).clocks["ground"]

    assert (ground.wanted_since, ground.earlier_wanted) == (0, 0)


def test_where_no_fine_feed_was_ever_written_down_its_longest_gap_runs_out_on_day_0() -> None:
    """A day d is overdue from d - c = 2 on, c the day before the run began (planning rules, form 2)."""
    fine = fine_of(Past(), WEDNESDAY)
    hatched_today = make_tank("a1", FEEDS, animals=(Presence("shrimplet", 9, first=TODAY),))

    assert (fine.wanted_since, fine.earlier_wanted) == (-1, 0)
    assert tank_of(Past(), tank=hatched_today).clocks["first_fine"].wanted_since == 0


def test_a_wanted_run_starts_with_the_animals_or_with_the_ledger() -> None:
    hatched = Presence("shrimplet", 30, first=days_ago(4))
    tank = make_tank("a1", FEEDS, animals=(ADULTS, hatched))
    found = tank_of(Past().gave("a1", FLAKE, days_ago(9), 0.5), tank=tank)

    assert found.clocks["first_fine"].wanted_since == -1
    assert found.clocks["powder"].wanted_since == -4
    assert found.clocks["ground"].wanted_since == -9


def test_servings_due_before_the_plan_and_not_marked_yet_can_be_taken_as_given() -> None:
    room = make_room(FEEDS, make_tank("a1", FEEDS))
    tomorrow = TODAY + timedelta(days=1)

    problem = build_problem(room, Past().history(), tomorrow, 7, frozenset(((TODAY, "a1", "dust"),)))

    fine = problem.tanks["a1"].clocks["fine"]
    assert problem.tanks["a1"].feeds["dust"].last == -1
    assert (fine.last, fine.earlier_days) == (LastAnswer(-1, "dust"), 1)


def test_the_whole_posted_plan_is_part_of_the_problem() -> None:
    def posted(feed: str) -> PostedServing:
        return due("a1", make_feed(feed, "powder"), 0.3, 36)

    days = tuple((posted("dust"),) if number in (1, 3, 9) else () for number in range(12))
    gone = ((posted("dust"), posted("sold out")),)
    past = Past().posted(days_ago(1), *gone, *days[1:])
    room = make_room(FEEDS, make_tank("a1", FEEDS))

    problem = build_problem(room, past.history(), TODAY, 14)
    assert problem.posted == (Slot(0, "a1", "dust"), Slot(2, "a1", "dust"), Slot(8, "a1", "dust"))
    assert problem.posted_days == 11
    assert build_problem(room, past.history(), TODAY, 5).posted_days == 5
    assert build_problem(room, Past().history(), TODAY, 5).posted_days == 0


def test_other_servings_can_be_taken_as_posted_as_far_as_they_reach() -> None:
    problem = build_problem(make_room(FEEDS, make_tank("a1", FEEDS)), Past().history(), TODAY, 7)
    found = with_posted(problem, (Slot(1, "a1", "dust"), Slot(6, "a1", "dust")), 5)

    assert (found.posted, found.posted_days) == ((Slot(1, "a1", "dust"),), 5)
    assert with_posted(problem, (), 30).posted_days == 7


def test_a_kind_that_has_its_table_to_itself_may_take_the_whole_day() -> None:
    film, bug = make_feed("film", "biofilm"), make_feed("bug", "protein")

    def most(*feeds: Feed) -> dict[str, float]:
        tank = make_tank("a1", feeds, animals=(Presence("adult", 3000), Presence("shrimplet", 90)))
        problem = build_problem(make_room(feeds, tank), Past().history(), TODAY, 7)
        return {name: feed.most for name, feed in problem.tanks["a1"].feeds.items()}

    assert most(film, bug, make_feed("chalk", "mineral")) == {"film": 1.0, "bug": 1.0, "chalk": 0.3}
    assert most(film, DUST, bug, FLAKE) == {"film": 0.6, "dust": 1.0, "bug": 0.6, "flake": 1.0}


def test_the_weeks_of_a_plan_are_those_of_iso_8601() -> None:
    """ISO 8601: 2026-01-01 lies in 2026-W01 as day 4; so three days come before the first Monday."""
    problem = build_problem(
        make_room((DUST,), make_tank("a1", (DUST,))), Past().history(date(2026, 1, 1)), date(2026, 1, 1), 14
    )
    assert [(week.first, week.last, week.whole) for week in weeks(problem)] == [
        (0, 3, True),
        (4, 10, True),
        (11, 13, False),
    ]
