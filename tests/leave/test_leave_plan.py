"""Whatever the room and its past: a leave plan gives little, nothing new, and breaks no hard rule."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.amounts.ration import serving
from schedules.history import History
from schedules.leave import leave_plan
from schedules.leave.plan import LeavePlan, leave_problem
from schedules.ledger import Posting
from schedules.planning import checker
from schedules.planning.problem.costs import cost
from schedules.planning.problem.json import plan_to_json
from schedules.planning.problem.types import Plan, Slot
from schedules.room import Presence, Room
from schedules.room.kinds import Kind
from tests.amounts.rooms import TODAY, Past, make_feed, make_room, make_tank
from tests.strategies import pasts, rooms

room_and_past = rooms().flatmap(lambda room: st.tuples(st.just(room), pasts(room)))
lengths, aheads = st.integers(1, 30), st.integers(0, 9)


def planned(room: Room, history: History, ahead: int, days: int) -> LeavePlan:
    first = TODAY + timedelta(days=ahead)
    return leave_plan(room, history, TODAY, first, first + timedelta(days=days - 1))


@given(room_and_past, aheads, lengths)
@settings(max_examples=60, deadline=None)
def test_a_leave_plan_breaks_no_hard_rule(made: tuple[Room, Past], ahead: int, days: int) -> None:
    """The checker reads JSON alone; the problem is that of a room in which nobody has a day off."""
    room, past = made
    plan = planned(room, past.history(), ahead, days)
    problem = leave_problem(room, past.history(), TODAY, plan.first, days)
    slots = tuple(sorted(Slot(n, each.tank, each.feed) for n, due in enumerate(plan.days) for each in due))

    document = json.loads(json.dumps(plan_to_json(problem, Plan(slots, cost(problem, slots), None))))

    assert [breach.text for breach in checker.broken_rules(document)] == []


@given(room_and_past, aheads, lengths)
@settings(max_examples=60, deadline=None)
def test_no_serving_is_new_risky_or_more_than_a_full_one(made: tuple[Room, Past], ahead: int, days: int) -> None:
    room, past = made
    history = past.history()
    plan = planned(room, history, ahead, days)
    for number, due in enumerate(plan.days):
        on = plan.first + timedelta(days=number)
        assert len({(each.tank, room.feeds[each.feed].table) for each in due}) == len(due)
        for each in due:
            tank, feed = room.tanks[each.tank], room.feeds[each.feed]
            full = serving(tank, feed, 1.0, on, room=room, history=history)
            assert feed.known or (tank.id, feed.id) in history.first_ever
            assert feed.kind in ("biofilm", "powder", "staple", "suspension")
            assert each.method != "flow" or feed.kind == "suspension"
            assert 0 < each.amount_mg <= full.mg
            assert each.part <= min(1.0, full.part)


@given(room_and_past, aheads, lengths)
@settings(max_examples=30, deadline=None)
def test_the_helper_never_comes_on_two_days_running(made: tuple[Room, Past], ahead: int, days: int) -> None:
    visits = planned(made[0], made[1].history(), ahead, days).visits

    assert all((after - before).days >= 2 for before, after in pairwise(visits))


@given(st.integers(0, 12), st.integers(0, 5), lengths, st.integers(0, 9))
@settings(max_examples=60, deadline=None)
def test_shrimplets_never_wait_more_than_two_days_once_the_helper_comes(
    last: int, young: int, days: int, ahead: int
) -> None:
    """Every other day is what their clock allows: planning rules, form 2, clock `fine`, `max_gap` 2."""
    powder = make_feed("dust", "powder")
    animals = (Presence("shrimplet", 30 + young, hatched=TODAY - timedelta(days=20)), Presence("adult", 40))
    room = make_room([powder], make_tank("a", [powder], animals=animals))
    past = Past()
    past.gave("a", powder, TODAY - timedelta(days=last + 1), 0.3)
    plan = planned(room, past.history(), ahead, days)

    fed = [(day - plan.first).days for day in plan.visits]

    begin = -(last + 1 + ahead)
    points = [*([begin] if begin >= -2 else []), *fed, days]
    assert fed or days - begin <= 2
    assert all(after - before <= 2 for before, after in pairwise(points))
    if begin < -2 and fed:
        assert fed[0] <= 1


@pytest.mark.parametrize("kind", ["protein", "greens", "mineral"])
def test_what_fouls_or_can_wait_is_never_given(kind: Kind) -> None:
    feed = make_feed("x", kind, known=True)
    room = make_room([feed], make_tank("a", [feed], animals=(Presence("adult", 40), Presence("juvenile", 10))))

    assert planned(room, Past().history(), 1, 14).visits == ()


def test_a_feed_that_was_never_given_waits_until_the_keeper_is_back() -> None:
    feed = make_feed("plain", "staple")
    room = make_room([feed], make_tank("a", [feed], animals=(Presence("adult", 40),)))
    past = Past()
    assert not planned(room, past.history(), 1, 14).visits

    past.gave("a", feed, TODAY - timedelta(days=3), 0.5)
    assert planned(room, past.history(), 1, 14).visits


def test_a_feed_past_its_date_before_the_return_is_left_out() -> None:
    feed = make_feed("plain", "staple", known=True)
    room = make_room([feed], make_tank("a", [feed], animals=(Presence("adult", 40),)))
    old = replace(room, feeds={"plain": replace(feed, best_before=TODAY + timedelta(days=5))})

    assert planned(room, Past().history(), 1, 14).visits
    assert not planned(old, Past().history(), 1, 14).visits


def test_what_is_due_until_the_first_day_counts_as_given() -> None:
    """A powder due on the eve needs no visit on the first day: the next day is within the two days of its clock."""
    powder = make_feed("dust", "powder", known=True)
    room = make_room([powder], make_tank("a", [powder], animals=(Presence("shrimplet", 30),)))
    serving_due = planned(room, Past().history(), 1, 1).days[0][0]
    posted = replace(Past().history(), postings=(Posting(TODAY, ((), (serving_due,), ())),))

    visits = planned(room, posted, 2, 6).visits

    assert [(day - TODAY).days for day in visits] == [3, 5, 7]
    assert date.fromordinal(visits[0].toordinal() - 2) == TODAY + timedelta(days=1)
