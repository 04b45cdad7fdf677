"""How near a plan is to the best there is: every plan of tiny problems, CP-SAT on small ones, and what follows."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from schedules.planning import checker
from schedules.planning.problem.types import Problem
from schedules.planning.search import plan, quick
from tests.bench import plan_reference
from tests.bench.plan_document import document
from tests.bench.plan_rooms import a_day_on, invented_room, next_day

from .problems import every_plan, problems


@given(problems(most_tanks=2, most_feeds=3, most_days=6))
@settings(max_examples=30, deadline=None)
def test_the_plan_of_a_tiny_problem_is_the_cheapest_of_all_and_the_bound_is_below_it(problem: Problem) -> None:
    lawful = [read for one in every_plan(problem) if not checker.broken_rules(read := document(problem, one))]
    least = min(checker.costs(read)["total"] for read in lawful)
    made = plan(problem)
    assert made.bound is not None
    assert made.bound <= least + 1e-6
    assert made.cost.total <= least * 1.02 + 1e-6


@pytest.mark.parametrize(("seed", "tight"), [(0, False), (1, True), (2, False), (3, True)])
def test_a_room_of_two_tanks_over_a_fortnight_is_within_two_in_a_hundred_of_its_optimum(seed: int, tight: bool) -> None:
    problem = invented_room(2, seed, tight, days=14)
    best = plan_reference.solve(problem, seconds=120)
    made = plan(problem)
    assert best.optimal
    assert made.bound is not None
    assert made.bound <= best.cost + 0.02
    assert made.cost.total <= best.cost * 1.02


@pytest.mark.parametrize(("seed", "tight"), [(1, False), (2, True)])
def test_a_day_later_the_plan_stays_and_costs_no_more_than_one_from_nothing_by_one_in_a_hundred(
    seed: int, tight: bool
) -> None:
    problem = invented_room(12, seed, tight)
    made = plan(problem)
    later, previous = next_day(problem, made.slots), a_day_on(made.slots)
    followed = plan(later, previous)
    assert followed.bound is None
    assert followed.cost.total <= plan(later).cost.total * 1.01
    first_week = {slot for slot in followed.slots if slot.day < 7} ^ {slot for slot in previous if slot.day < 7}
    assert len(first_week) <= 2


def test_a_first_plan_feeds_every_tank_of_shrimplets_on_its_first_day_and_levels_the_rounds() -> None:
    problem = invented_room(48, 4, tight=False)
    for made in (plan(problem), quick(problem)):
        given = {(slot.tank, slot.feed) for slot in made.slots if slot.day == 0}
        for name, tank in problem.tanks.items():
            for key in ("first fine", "fine"):
                clock = tank.clocks.get(key)
                waits = clock is not None and clock.max_gap is not None and (clock.wanted_since or 0) < 0
                if clock is None or not waits or 0 not in clock.wanted:
                    continue
                last = max(clock.last.day if clock.last else -99, (clock.wanted_since or 0) - 1)
                able = [
                    feed for feed in clock.feeds if 0 in tank.feeds[feed].open and (tank.feeds[feed].last or -9) <= -2
                ]
                if -last >= (clock.max_gap or 0) and able:
                    assert any((name, feed) in given for feed in clock.feeds), (name, key)
