"""Small problems against every plan there is, and single tanks against another solver's proven optimum."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings

from schedules import checker
from schedules.plan.cost import cost
from schedules.plan.grid import UNIT
from schedules.plan.planner import plan, searched
from schedules.plan.search import RoomSearch
from schedules.problem.types import Problem
from schedules.rules import WEIGHTS
from tests.bench import plan_flows
from tests.bench.plan_columns import Prices, Proven, alone, prove
from tests.bench.plan_reference import Solved, solve
from tests.bench.plan_rooms import invented_room

from .problems import MONDAY, a_feed, a_problem, document, every_lawful_plan, problems


def cheapest(problem: Problem) -> float:
    """The least cost of all plans, by trying each."""
    return min(cost(problem, chosen).total for chosen in every_lawful_plan(problem))


@given(problems(most_tanks=2, most_feeds=2, most_days=5))
@settings(max_examples=15, deadline=None)
def test_no_plan_of_a_small_problem_is_cheaper_and_none_undercuts_the_bound(problem: Problem) -> None:
    # A group without a gap may take two feeds a day by the rules; the planner gives one, and claims no bound then.
    strict = all(group.min_gap for tank in problem.tanks.values() for group in tank.groups.values())
    made = plan(problem)
    least = cheapest(problem)
    assert made.cost.total >= least - 1e-9
    assert made.bound is None or made.bound <= least + 1e-9
    if strict:
        assert made.cost.total <= least * 1.01 + 0.05


@given(problems(most_tanks=2, most_feeds=3, most_days=9))
@settings(max_examples=25, deadline=None)
def test_two_solvers_given_the_problem_in_two_ways_agree_on_the_optimum(problem: Problem) -> None:
    assume(all(group.min_gap for tank in problem.tanks.values() for group in tank.groups.values()))
    one, other = solve(problem, seconds=60), plan_flows.solve(problem, seconds=60)
    assert one.optimal
    assert other.optimal
    assert one.cost == pytest.approx(other.cost, abs=0.05)
    assert checker.check(document(problem, other.slots)) == []
    assert cost(problem, other.slots).total == pytest.approx(other.cost, abs=0.01)


def proven_by_prices(problem: Problem, turns: int) -> Proven:
    """What prices prove of a room of which no plan but the empty one is known, even prices first."""
    names = [name for name, tank in problem.tanks.items() if tank.feeds]
    rounds = {feed.round for tank in problem.tanks.values() for feed in tank.feeds.values()}
    places = [(day, name) for day in range(problem.days) for name in rounds]
    even = {place: WEIGHTS.longest_round / len(places) for place in places}

    def optima(prices: Prices) -> dict[str, Solved]:
        return {name: plan_flows.solve(alone(problem, name), 60, prices) for name in names}

    return prove(problem, {name: [()] for name in names}, even, optima, turns)


def test_prices_prove_no_more_than_rounds_that_are_shared_out_in_fractions() -> None:
    # Two tanks want a minute once in seven days, on pain of an overdue day: two rounds of a minute at best, which costs
    # 30. In fractions each day bears two sevenths of a minute (worked out by hand).
    feed = a_feed(per_week=1, max_gap=7)
    one = a_problem({"a": feed})
    room = Problem(one.start, one.days, {"t1": one.tanks["a1"], "t2": one.tanks["a1"]}, ())
    proven = proven_by_prices(room, turns=60)
    assert solve(room, seconds=60).cost == pytest.approx(30)
    assert proven.bound == pytest.approx(30 * 2 / 7, abs=0.01)
    assert proven.most == pytest.approx(30 * 2 / 7, abs=0.01)


@given(problems(most_tanks=3, most_feeds=2, most_days=7))
@settings(max_examples=15, deadline=None)
def test_better_prices_prove_more_but_never_more_than_the_optimum(problem: Problem) -> None:
    assume(all(group.min_gap for tank in problem.tanks.values() for group in tank.groups.values()))
    assume(any(tank.feeds for tank in problem.tanks.values()))
    problem = replace(problem, posted=())
    first, later = proven_by_prices(problem, turns=1), proven_by_prices(problem, turns=8)
    optimum = solve(problem, seconds=60)
    assert optimum.optimal
    assert first.bound <= later.bound <= optimum.cost + 0.05
    assert later.bound <= later.most + 0.05
    assert later.most <= first.most + 0.001


@pytest.fixture(scope="module")
def a_room() -> tuple[Problem, RoomSearch]:
    problem = invented_room(48, 0, tight=False)
    return problem, searched(problem)


@pytest.mark.parametrize("tank", ["t0001", "t0005", "t0008", "t0034", "t0037", "t0043"])
def test_in_a_room_a_tank_of_up_to_eight_feeds_is_near_its_optimum_over_a_month(
    tank: str, a_room: tuple[Problem, RoomSearch]
) -> None:
    problem, room = a_room
    price = room.bound_prices
    prices = {(day, name): float(price[day, r]) for day in range(problem.days) for r, name in enumerate(room.rounds)}
    alone = Problem(MONDAY, problem.days, {tank: problem.tanks[tank]}, ())
    reference = plan_flows.solve(alone, seconds=120, minute_prices=prices)
    assert reference.optimal
    block = next(block for block in room.blocks if tank in block.grid.tanks)
    found = float(block.least(price)[block.grid.tanks.index(tank)]) / UNIT
    # HiGHS stops a hundred-thousandth short of the optimum; costs of the search are rounded down.
    assert reference.bound - 0.02 <= found <= reference.cost * 1.01
    assert room.bounds[tank] <= reference.cost + 0.01


@pytest.mark.parametrize("tight", [False, True], ids=["ordinary", "tight"])
@pytest.mark.parametrize("seed", [0, 2])
def test_a_single_tank_is_within_a_hundredth_of_the_optimum_that_cp_sat_proves(seed: int, tight: bool) -> None:
    problem = invented_room(1, seed, tight, days=9)
    made, reference = plan(problem), solve(problem, seconds=120, workers=2)
    assert reference.optimal
    assert made.cost.total <= reference.cost * 1.01
    assert made.bound is not None
    assert made.bound <= reference.cost + 0.01


def test_days_that_must_be_overdue_are_in_the_bound() -> None:
    # Prices alone could save a part of an overdue day, and would leave the bound of this tank at half of its plan.
    tank = invented_room(48, 1, tight=True).tanks["t0025"]
    problem = Problem(MONDAY, 28, {"t0025": tank}, ())
    made = plan(problem)
    assert made.cost.overdue == 600
    assert made.bound is not None
    assert made.cost.total <= made.bound * 1.05


def test_the_reference_counts_a_plan_as_the_checker_does() -> None:
    problem = invented_room(2, 0, True, days=10)
    found = solve(problem, seconds=5, workers=2)
    read = document(problem, found.slots)
    assert checker.check(read) == []
    assert checker.costs(read)["total"] == pytest.approx(found.cost, abs=0.02)
