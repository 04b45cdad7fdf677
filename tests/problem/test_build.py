"""The planning problem is what the room and its ledger say, numbered from the plan's first day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from schedules.ledger import PostedServing
from schedules.problem import LastOfGroup, Slot, TankFeed
from schedules.problem.build import build_problem
from schedules.room import Keeper, Presence
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
FLAKE = make_feed("flake", "staple")
WAFER = make_feed("wafer", "staple")
FEEDS = (DUST, FLAKE, WAFER)
WEDNESDAY = TODAY
"""TODAY is a Wednesday (ISO 8601: 2026-W48-3)."""


def dust_of(past: Past, start: date) -> TankFeed:
    room = make_room(FEEDS, make_tank("a1", FEEDS))
    return build_problem(room, past.history(), start, 7).tanks["a1"].feeds["dust"]


def test_a_feed_is_wanted_while_its_stage_is_in_the_tank() -> None:
    window = Presence("shrimplet", 30, first=TODAY + timedelta(days=3), last=TODAY + timedelta(days=5))
    tank = make_tank("a1", FEEDS, animals=(Presence("adult", 10), window))

    feeds = build_problem(make_room(FEEDS, tank), Past().history(), TODAY, 14).tanks["a1"].feeds

    assert feeds["dust"].wanted == (3, 4, 5)
    assert feeds["dust"].wanted_since is None
    assert feeds["flake"].wanted == tuple(range(14))


def test_a_feed_that_no_day_wants_is_left_out() -> None:
    tank = make_tank("a1", FEEDS, animals=(Presence("shrimplet", 10),))

    assert set(build_problem(make_room(FEEDS, tank), Past().history(), TODAY, 7).tanks["a1"].feeds) == {"dust"}


def test_a_rest_day_is_closed_to_solid_feeds_only() -> None:
    tank = make_tank("a1", FEEDS, rest_weekday=6)

    feeds = build_problem(make_room(FEEDS, tank), Past().history(), WEDNESDAY, 7).tanks["a1"].feeds

    assert 4 not in feeds["flake"].open
    assert feeds["dust"].open == tuple(range(7))


def test_a_day_off_of_every_keeper_is_closed_except_to_feeds_given_even_then() -> None:
    dust, soft = make_feed("dust", "powder", even_on_days_off=True), make_feed("film", "biofilm")
    room = make_room((dust, soft), make_tank("a1", (dust, soft)))
    off = frozenset((TODAY + timedelta(days=1),))
    room = replace(room, keepers=(Keeper("Mara", off_dates=off), Keeper("Ole", off_dates=off)))

    feeds = build_problem(room, Past().history(), TODAY, 4).tanks["a1"].feeds

    assert feeds["film"].open == (0, 2, 3)
    assert feeds["dust"].open == (0, 1, 2, 3)


def test_a_day_off_of_one_keeper_closes_nothing_while_another_is_there() -> None:
    room = make_room((FLAKE,), make_tank("a1", (FLAKE,)))
    room = replace(room, keepers=(Keeper("Mara", off_dates=frozenset((TODAY,))), Keeper("Ole")))

    assert build_problem(room, Past().history(), TODAY, 3).tanks["a1"].feeds["flake"].open == (0, 1, 2)


def test_the_last_servings_come_from_the_ledger_also_those_of_the_rotation_group() -> None:
    past = Past().gave("a1", FLAKE, days_ago(5), 0.5).gave("a1", WAFER, days_ago(2), 0.5)
    tank = build_problem(make_room(FEEDS, make_tank("a1", FEEDS)), past.history(), TODAY, 7).tanks["a1"]

    assert (tank.feeds["flake"].last, tank.feeds["wafer"].last, tank.feeds["dust"].last) == (-5, -2, None)
    assert tank.groups["staples"].last == LastOfGroup(-2, "wafer")


def test_a_feed_no_longer_given_to_the_tank_still_counts_as_the_groups_last() -> None:
    past = Past().gave("a1", WAFER, days_ago(1), 0.5)
    room = make_room(FEEDS, make_tank("a1", (DUST, FLAKE)))

    assert build_problem(room, past.history(), TODAY, 7).tanks["a1"].groups["staples"].last == LastOfGroup(-1, "wafer")


def test_what_was_given_since_monday_counts_for_the_week() -> None:
    past = Past()
    for ago in (1, 2, 3):  # Tuesday, Monday, and the Sunday of the week before
        past.gave("a1", DUST, days_ago(ago), 0.3)

    dust = dust_of(past, WEDNESDAY)

    assert (dust.given_this_week, dust.wanted_this_week) == (2, 2)


def test_a_plan_that_starts_on_a_monday_has_no_earlier_days_this_week() -> None:
    past = Past().gave("a1", DUST, days_ago(3), 0.3)
    monday = TODAY + timedelta(days=5)

    dust = dust_of(past, monday)

    assert (dust.given_this_week, dust.wanted_this_week) == (0, 0)


def test_a_room_that_begins_its_ledger_is_not_in_debt() -> None:
    dust = dust_of(Past(), WEDNESDAY)

    assert (dust.wanted_since, dust.wanted_this_week) == (0, 0)


def test_the_clock_of_a_wanted_feed_starts_with_its_run_or_with_the_ledger() -> None:
    hatched = Presence("shrimplet", 30, first=days_ago(4))
    tank = make_tank("a1", FEEDS, animals=(Presence("adult", 10), hatched))
    past = Past().gave("a1", FLAKE, days_ago(9), 0.5)

    feeds = build_problem(make_room(FEEDS, tank), past.history(), TODAY, 7).tanks["a1"].feeds

    assert feeds["dust"].wanted_since == -4
    assert feeds["flake"].wanted_since == -9


def test_servings_due_before_the_plan_and_not_marked_yet_can_be_taken_as_given() -> None:
    room = make_room(FEEDS, make_tank("a1", FEEDS))
    tomorrow = TODAY + timedelta(days=1)

    problem = build_problem(room, Past().history(), tomorrow, 7, frozenset(((TODAY, "a1", "dust"),)))

    dust = problem.tanks["a1"].feeds["dust"]
    assert (dust.last, dust.given_this_week) == (-1, 1)


def test_the_posted_plan_of_the_first_week_is_part_of_the_problem() -> None:
    def posted(feed: str) -> PostedServing:
        return due("a1", make_feed(feed, "powder"), 0.3, 36)

    days = tuple((posted("dust"),) if number in (1, 3, 9) else () for number in range(12))
    gone = ((posted("dust"), posted("sold out")),)
    past = Past().posted(days_ago(1), *gone, *days[1:])
    room = make_room(FEEDS, make_tank("a1", FEEDS))

    assert build_problem(room, past.history(), TODAY, 14).posted == (Slot(0, "a1", "dust"), Slot(2, "a1", "dust"))


def test_dates_lie_as_iso_8601_says() -> None:
    """ISO 8601: 2026-01-01 lies in 2026-W01 as day 4, so 2026-11-25 is a Wednesday."""
    assert date(2026, 1, 1).isocalendar()[:3] == (2026, 1, 4)
    assert WEDNESDAY.isocalendar()[2] == 3
