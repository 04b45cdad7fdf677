"""The references: two solvers given a problem in two ways, the checker, and every plan there is of tiny problems."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from schedules.planning import checker
from schedules.planning.problem.types import Problem, Slot
from tests.bench import plan_flows, plan_reference
from tests.bench.plan_document import document
from tests.bench.plan_reference import Prices, Solved
from tests.bench.plan_rooms import alone, invented_room

from . import restated
from .problems import every_plan, problems

_NEAR = 0.02  # costs are rounded to a ten-thousandth by CP-SAT, HiGHS stops a hundred-thousandth short


def agree(one: Solved, other: Solved) -> bool:
    return one.optimal and other.optimal and math.isclose(one.cost, other.cost, rel_tol=1e-4, abs_tol=_NEAR)


@given(problems(most_tanks=2, most_feeds=3, most_days=12))
@settings(max_examples=25, deadline=None)
def test_two_solvers_given_a_problem_in_two_ways_agree_with_each_other_and_with_the_checker(problem: Problem) -> None:
    found = plan_reference.solve(problem, seconds=60), plan_flows.solve(problem, seconds=60)
    assert agree(*found)
    for solved in found:
        read = document(problem, solved.slots)
        assert checker.broken_rules(read) == []
        assert checker.costs(read)["total"] == pytest.approx(solved.cost, abs=_NEAR)


@given(problems(most_tanks=2, most_feeds=3, most_days=6))
@settings(max_examples=25, deadline=None)
def test_no_plan_of_a_tiny_problem_is_cheaper_than_the_solvers_say(problem: Problem) -> None:
    least = min(
        sum(restated.costs(problem, plan).values()) for plan in every_plan(problem) if restated.is_lawful(problem, plan)
    )
    assert plan_reference.solve(problem, seconds=60).cost == pytest.approx(least, abs=_NEAR)
    assert plan_flows.solve(problem, seconds=60).cost == pytest.approx(least, abs=_NEAR)


def at_prices(problem: Problem, slots: tuple[Slot, ...], prices: Prices) -> float:
    """The checker's cost with priced minutes instead of the longest round."""
    found = checker.costs(document(problem, slots))
    feeds = [(slot.day, problem.tanks[slot.tank].feeds[slot.feed]) for slot in slots]
    return found["total"] - found["longest_round"] + sum(prices[day, feed.round] * feed.minutes for day, feed in feeds)


@pytest.mark.parametrize("tight", [False, True], ids=["ordinary", "tight"])
def test_at_given_prices_for_minutes_both_find_the_same_best_ten_days_of_a_tank(tight: bool) -> None:
    room = invented_room(4, 1, tight, days=10, posted=True)
    prices = {(day, "morning"): 1.0 + day % 3 for day in range(room.days)}
    for name in room.tanks:
        tank = alone(room, name)
        found = plan_reference.solve(tank, 60, 2, prices), plan_flows.solve(tank, 60, prices)
        assert agree(*found)
        for solved in found:
            assert checker.broken_rules(document(tank, solved.slots)) == []
            assert at_prices(tank, solved.slots, prices) == pytest.approx(solved.cost, abs=_NEAR)


@given(problems(most_tanks=3, most_feeds=2, most_days=5))
@settings(max_examples=15, deadline=None)
def test_prices_that_add_up_to_the_weight_bound_the_room_from_below(problem: Problem) -> None:
    # Lagrangian duality: at any prices of minutes that add up to the weight of the longest round, the tanks' optima
    # add up to no more than the room's.
    places = [(day, name) for day in range(problem.days) for name in ("morning", "evening")]
    prices = {place: 30 / len(places) for place in places}
    tanks = [plan_flows.solve(alone(problem, name), 60, prices) for name in problem.tanks]
    whole = plan_reference.solve(problem, 60)
    assert whole.optimal
    assert all(solved.optimal for solved in tanks)
    assert sum(solved.bound for solved in tanks) <= whole.cost + _NEAR
