"""How much prices for the minutes of the rounds can prove of a room at most, and prices that prove nearly that.

Any prices that add up to the weight of the longest round give a bound: the sum of the tanks' optima at these prices.
The best of these bounds is the optimum of a linear program that mixes plans of each tank (Dantzig and Wolfe 1960;
Geoffrion 1974 for the two being equal). Here the program is given a few plans of each tank and those that are cheapest
at its own prices are added, turn by turn. With any set of plans its optimum is the most that prices can prove; what
is missing to the cost of the best plan then shows only to a search that branches.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from ortools.math_opt.python import mathopt

from schedules.plan.cost import cost, round_minutes
from schedules.problem.types import Problem, Slot
from schedules.rules import WEIGHTS
from tests.bench.plan_reference import Solved

Prices = Mapping[tuple[int, str], float]
"""Of a minute, by day and round."""

_TOWARDS = 0.3  # how far prices go from the best ones known to those of the program, which jump about
_NEAR = 1e-4  # part of the bound; nearer than this to the most it is not worth while


@dataclass(frozen=True, slots=True)
class Proven:
    """A bound of the room's cost, and the most that any prices prove."""

    bound: float
    most: float


def prove(
    problem: Problem,
    plans: Mapping[str, Iterable[tuple[Slot, ...]]],
    prices: Prices,
    optima: Callable[[Prices], Mapping[str, Solved]],
    turns: int,
) -> Proven:
    """The best bound found in some turns from these prices on.

    `plans` are lawful plans of each tank that has feeds; `optima` plans all of these at prices for minutes.
    """
    columns = _Columns(problem)
    for name, known in plans.items():
        for slots in known:
            columns.add(name, slots)
    bound, best = float("-inf"), prices
    most = float("inf")
    for _ in range(turns):
        found = optima(prices)
        if (sum_of_bounds := sum(solved.bound for solved in found.values())) > bound:
            bound, best = sum_of_bounds, prices
        for name, solved in found.items():
            if solved.cost < float("inf"):
                columns.add(name, solved.slots)
        most, steered = columns.mixed()
        if most - bound < _NEAR * most:
            break
        prices = {place: (1 - _TOWARDS) * best[place] + _TOWARDS * steered[place] for place in best}
    return Proven(bound, most)


def alone(problem: Problem, name: str) -> Problem:
    """The problem of one tank by itself, with nothing posted."""
    return Problem(problem.start, problem.days, {name: problem.tanks[name]}, ())


class _Column(NamedTuple):
    """A plan of one tank."""

    cost: float
    """Without minutes."""
    minutes: dict[tuple[int, str], float]


class _Columns:
    """The plans known of each tank that has feeds."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.plans: dict[str, dict[tuple[Slot, ...], _Column]] = {
            name: {} for name, tank in problem.tanks.items() if tank.feeds
        }
        feeds = [feed for tank in problem.tanks.values() for feed in tank.feeds.values()]
        self.rounds = [(day, name) for day in range(problem.days) for name in sorted({feed.round for feed in feeds})]

    def add(self, name: str, slots: tuple[Slot, ...]) -> None:
        if slots not in self.plans[name]:
            tank = alone(self.problem, name)
            found = cost(tank, slots)
            self.plans[name][slots] = _Column(found.total - found.longest_round, round_minutes(tank, slots))

    def mixed(self) -> tuple[float, dict[tuple[int, str], float]]:
        """The least cost of a mixture of the plans, and the prices of minutes that go with it."""
        model = mathopt.Model()
        longest = model.add_variable(lb=0.0)
        costs: list[float | mathopt.LinearBase] = [WEIGHTS.longest_round * longest]
        minutes: dict[tuple[int, str], list[mathopt.LinearBase]] = {place: [] for place in self.rounds}
        for plans in self.plans.values():
            parts = [model.add_variable(lb=0.0) for _ in plans]
            model.add_linear_constraint(mathopt.fast_sum(parts) == 1.0)
            for part, column in zip(parts, plans.values(), strict=True):
                costs.append(column.cost * part)
                for place, length in column.minutes.items():
                    minutes[place].append(length * part)
        limits = {
            place: model.add_linear_constraint(mathopt.fast_sum(lengths) <= longest)
            for place, lengths in minutes.items()
        }
        model.minimize(mathopt.fast_sum(costs))
        result = mathopt.solve(model, mathopt.SolverType.GLOP)
        duals = result.dual_values()
        prices = {place: max(0.0, -duals[limit]) for place, limit in limits.items()}
        return result.termination.objective_bounds.primal_bound, prices
