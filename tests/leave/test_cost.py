"""What days away cost, worked out by hand for one tank: days with feed, rations, dry feed, waits, minutes."""

from __future__ import annotations

from datetime import timedelta

import pytest

from schedules.amounts.mixing import preparation_minutes
from schedules.leave.cost import TableCost, cost_of, day_minutes, normal_days
from schedules.leave.plan import LeavePlan
from schedules.ledger import PostedServing
from schedules.room import Presence, Room
from tests.amounts.rooms import TODAY, Past, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder", minutes=2.0)
FLAKE = make_feed("flake", "staple", minutes=1.0)
FIRST = TODAY + timedelta(days=1)


def room_of(*animals: Presence) -> Room:
    return make_room([DUST, FLAKE], make_tank("a", [DUST, FLAKE], animals=animals))


ROOM = room_of(Presence("adult", 40), Presence("shrimplet", 60))
POWDER, PIECE = due("a", DUST, 0.75, 30), due("a", FLAKE, 0.5, 60)
PLAN = LeavePlan(FIRST, ((POWDER,), (), (POWDER, PIECE), ()))
USUAL: tuple[tuple[PostedServing, ...], ...] = (
    (due("a", DUST, 1.0, 40), due("a", FLAKE, 1.0, 120)),
    (due("a", DUST, 1.0, 40),),
    (due("a", DUST, 1.0, 40), due("a", FLAKE, 1.0, 120)),
    (due("a", DUST, 1.0, 40),),
)


def tables(past: Past) -> dict[str, TableCost]:
    found = cost_of(ROOM, past.history(), TODAY, PLAN, USUAL)
    return {each.table: each for each in found.tables}


def test_each_table_has_its_days_its_part_of_the_ration_and_its_dry_feed() -> None:
    past = Past().gave("a", DUST, TODAY, 0.5).gave("a", FLAKE, TODAY - timedelta(days=2), 0.5)
    fine, ground = tables(past)["fine"], tables(past)["ground"]

    assert (fine.tank, fine.wanted, fine.fed, fine.usual, fine.without) == ("a", 4, 2, 4, 2)
    assert (fine.part, fine.usual_part, fine.mg, fine.usual_mg) == (1.5, 4.0, 60, 160)
    assert (ground.fed, ground.usual, ground.part, ground.usual_part) == (1, 2, 0.5, 2.0)
    assert (ground.mg, ground.usual_mg) == (60, 240)


def test_the_longest_wait_is_from_the_last_feed_before_until_the_keeper_is_back() -> None:
    past = Past().gave("a", DUST, TODAY, 0.5).gave("a", FLAKE, TODAY - timedelta(days=2), 0.5)
    found = tables(past)

    # Dust today, on the first and third day, and on the fifth the keeper is back; pellets two days ago.
    assert found["fine"].longest == 2
    assert found["ground"].longest == 5


def test_of_a_feed_that_was_never_given_the_wait_begins_with_the_days_away() -> None:
    found = tables(Past())

    assert found["ground"].longest == 3
    nothing = cost_of(ROOM, Past().history(), TODAY, LeavePlan(FIRST, ((), ())), ((), ()))
    assert [each.longest for each in nothing.tables] == [None, None]


def test_a_table_of_which_nobody_eats_is_left_out() -> None:
    room = room_of(Presence("adult", 40))
    plan = LeavePlan(FIRST, ((PIECE,),))
    found = cost_of(room, Past().history(), TODAY, plan, ((PIECE,),))

    assert "fan" not in {each.table for each in found.tables}


def test_visits_minutes_and_what_is_left_out_are_those_of_the_whole_room() -> None:
    usual = (*USUAL[:3], (due("a", FLAKE, 1.0, 120),))
    only_dust = LeavePlan(FIRST, ((POWDER,), (), (POWDER,), ()))
    found = cost_of(ROOM, Past().history(), TODAY, only_dust, usual)

    assert (found.visits, found.days, found.left_out) == (2, 4, ("flake",))
    visit = 2.0 + preparation_minutes(ROOM, [POWDER])
    assert found.minutes == pytest.approx(2 * visit)
    assert found.longest_visit == pytest.approx(visit)
    longest = 3.0 + preparation_minutes(ROOM, usual[0])
    assert found.longest_usual == pytest.approx(longest)
    others = 2.0 + preparation_minutes(ROOM, usual[1]) + 1.0 + preparation_minutes(ROOM, usual[3])
    assert found.usual_minutes == pytest.approx(2 * longest + others)


def test_a_serving_in_a_tank_or_of_a_feed_that_is_gone_takes_no_handling() -> None:
    gone = due("z", DUST, 1.0, 40)
    assert day_minutes(ROOM, [gone]) == preparation_minutes(ROOM, [gone])
    assert day_minutes(ROOM, []) == preparation_minutes(ROOM, [])


def test_the_normal_plan_is_the_posted_one_where_it_covers_all_of_the_days() -> None:
    posted = Past().posted(TODAY, (), *USUAL)
    last = FIRST + timedelta(days=3)

    assert normal_days(ROOM, posted.history(), TODAY, FIRST, last) == USUAL
    shorter = Past().posted(TODAY, (), *USUAL[:3])
    made = normal_days(ROOM, shorter.history(), TODAY, FIRST, last)
    assert len(made) == 4
    assert made != USUAL
