"""Life interferes: only what has to move moves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from schedules import checker
from schedules.plan.day_sets import day_sets
from schedules.plan.planner import plan, replan_tank
from schedules.plan.search import SMALL
from schedules.problem.later import later
from schedules.problem.types import Problem, Slot
from schedules.rules import WEIGHTS
from tests.bench.plan_rooms import invented_room, next_day

from .problems import a_feed, a_problem, document, slots

DAYS = 16


def posted(problem: Problem, slots: tuple[Slot, ...]) -> Problem:
    return replace(problem, posted=tuple(slot for slot in slots if slot.day < 7))


def moved(before: tuple[Slot, ...], after: tuple[Slot, ...], days: int = 7) -> set[Slot]:
    return {slot for slot in set(before) ^ set(after) if slot.day < days}


@pytest.mark.parametrize("seed", range(2))
def test_planning_again_with_nothing_changed_moves_nothing(seed: int) -> None:
    problem = invented_room(3, seed, tight=False, days=DAYS)
    first = plan(problem).slots
    again = plan(posted(problem, first), first)
    assert moved(first, again.slots) == set()


@pytest.mark.parametrize("seed", range(2))
def test_a_day_later_the_plan_follows_the_one_that_was_posted(seed: int) -> None:
    problem = invented_room(3, seed, tight=False, days=DAYS)
    first = plan(problem).slots
    tomorrow = next_day(problem, first)
    expected = tuple(Slot(slot.day - 1, slot.tank, slot.feed) for slot in first if slot.day > 0)
    again = plan(tomorrow, expected)
    assert checker.check(document(tomorrow, again.slots)) == []
    assert again.cost.churn <= 2 * 4


@pytest.mark.parametrize("seed", [0, 2])
def test_after_a_week_of_days_carried_on_the_plan_costs_little_more_than_one_made_anew(seed: int) -> None:
    # With the ends of all tanks taken as one search levelled them by themselves it had cost 6 and 18 % more.
    problem = invented_room(16, seed, tight=False)
    made = plan(problem)
    for _ in range(7):
        problem = next_day(problem, made.slots)
        made = plan(problem, [Slot(slot.day - 1, slot.tank, slot.feed) for slot in made.slots if slot.day > 0])
        assert checker.check(document(problem, made.slots)) == []
    assert made.cost.total <= 1.03 * plan(problem).cost.total


def test_a_tank_whose_posted_days_hold_more_than_the_search_looks_at_is_planned_anew() -> None:
    feeds = {f"f{number:02}": a_feed(10, max_gap=6, last=-2, share=0.05) for number in range(13)}
    one = a_problem(feeds, 10)
    # In a small room the last pass would find another plan by itself.
    others = {f"b{number:02}": a_problem({"f": a_feed(10)}).tanks["a1"] for number in range(SMALL)}
    problem = Problem(one.start, one.days, {**one.tanks, **others}, ())
    all_at_once = slots(*((day, name) for day in (1, 4, 7) for name in feeds))
    assert not day_sets(problem.tanks["a1"]).complete
    made = plan(problem, all_at_once)
    assert checker.check(document(problem, made.slots)) == []
    # With the tank left out its thirteen feeds were overdue for five days each.
    assert made.cost.overdue <= plan(problem).cost.overdue + WEIGHTS.overdue * 3


@pytest.mark.parametrize("seed", range(2))
def test_after_a_missed_round_in_one_tank_the_other_tanks_stay_as_they_are(seed: int) -> None:
    problem = invented_room(3, seed, tight=True, days=DAYS)
    first = plan(problem).slots
    tank = first[0].tank
    missed = next_day(problem, tuple(slot for slot in first if slot.tank != tank or slot.day > 0))
    expected = tuple(Slot(slot.day - 1, slot.tank, slot.feed) for slot in first if slot.day > 0)
    after = replan_tank(missed, expected, tank)
    assert {slot.tank for slot in set(after) ^ set(expected)} <= {tank}
    assert checker.check(document(missed, after)) == []


def test_one_tank_planned_anew_is_never_dearer_than_it_was() -> None:
    problem = invented_room(3, 1, tight=False, days=DAYS)
    first = plan(problem)
    for tank in problem.tanks:
        after = checker.costs(document(problem, replan_tank(problem, first.slots, tank)))
        assert after["total"] <= first.cost.total + 1e-6


def test_a_problem_some_days_later_costs_what_is_left_of_it() -> None:
    problem = invented_room(4, 2, tight=True, days=DAYS)
    slots = plan(problem).slots
    rest = later(problem, slots, 7)
    left = tuple(Slot(slot.day - 7, slot.tank, slot.feed) for slot in slots if slot.day >= 7)
    head = replace(
        problem,
        days=7,
        tanks={
            name: replace(
                tank,
                adults=tuple(day for day in tank.adults if day < 7),
                feeds={
                    feed_id: replace(
                        feed,
                        wanted=tuple(day for day in feed.wanted if day < 7),
                        open=tuple(day for day in feed.open if day < 7),
                    )
                    for feed_id, feed in tank.feeds.items()
                },
            )
            for name, tank in problem.tanks.items()
        },
    )
    whole, first, last = (
        checker.costs(document(asked, given))
        for asked, given in (
            (problem, slots),
            (head, tuple(slot for slot in slots if slot.day < 7)),
            (rest, left),
        )
    )
    for name in ("overdue", "unaccompanied", "weekly", "repeat"):
        assert first[name] + last[name] == pytest.approx(whole[name])
