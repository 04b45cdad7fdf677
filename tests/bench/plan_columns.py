"""What prices for the minutes of the rounds prove of a room, and the most that any prices do.

Any prices that add up to the weight of the longest round give a bound: the sum of the tanks' optima at these prices.
The best of these bounds is the optimum of a linear program that mixes plans of each tank (Dantzig and Wolfe 1960;
Geoffrion 1974 for the two being equal). Here the program starts with one plan of each tank, and those that HiGHS finds
cheapest at its prices are added, turn by turn. With any set of plans its optimum is the most that prices can prove;
what is missing to the cost of the best plan then shows only to a search that branches.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from ortools.math_opt.python import mathopt

from schedules.planning import checker
from schedules.planning.problem.types import Problem, Slot
from tests.bench.plan_document import document
from tests.bench.plan_reference import Prices, Solved
from tests.bench.plan_rooms import alone

_WEIGHT = 30.0  # of a minute of the longest round
_TOWARDS = 0.3  # how far prices go from the best ones known to those of the program, which jump about
_NEAR = 1e-4  # part of the bound; nearer than this to the most it is not worth while


@dataclass(frozen=True, slots=True)
class Proven:
    """A bound of the room's cost, the most that any prices prove, and how many tanks were solved to the end."""

    bound: float
    most: float
    asked: int
    solved: int


def prove(
    problem: Problem,
    known: Iterable[Slot],
    optima: Callable[[Prices], Mapping[str, Solved]],
    turns: int,
) -> Proven:
    """The best bound found in some turns, from even prices on.

    `known` is a lawful plan of the room; `optima` plans every tank at prices for minutes.
    """
    columns, slots = _Columns(problem), tuple(known)
    for name in problem.tanks:
        columns.add(name, tuple(slot for slot in slots if slot.tank == name))
    best = prices = {place: _WEIGHT / len(columns.rounds) for place in columns.rounds}
    bound, most, asked, solved = float("-inf"), float("inf"), 0, 0
    for _ in range(turns):
        found = optima(prices)
        asked, solved = asked + len(found), solved + sum(one.optimal for one in found.values())
        proven = sum(one.bound for one in found.values()) + _lost(problem)
        bound, best = max((bound, best), (proven, prices), key=lambda pair: pair[0])
        for name, one in found.items():
            if one.cost < float("inf"):
                columns.add(name, one.slots)
        most, steered = columns.mixed()
        if most - bound < _NEAR * most:
            break
        prices = {place: (1 - _TOWARDS) * best[place] + _TOWARDS * steered[place] for place in best}
    return Proven(bound, most, asked, solved)


def _lost(problem: Problem) -> float:
    """The cost of posted servings of tanks that are gone, which no tank pays."""
    end = min(problem.posted_days, problem.days)
    gone = [slot for slot in problem.posted if slot.tank not in problem.tanks and slot.day < end]
    return sum(2.0 if slot.day < 7 else 0.5 for slot in gone)


class _Column(NamedTuple):
    """A plan of one tank."""

    cost: float
    """Without minutes."""
    minutes: Mapping[tuple[int, str], float]


class _Columns:
    """The plans known of each tank."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.plans: dict[str, dict[tuple[Slot, ...], _Column]] = {name: {} for name in problem.tanks}
        names = {feed.round for tank in problem.tanks.values() for feed in tank.feeds.values()}
        self.rounds = [(day, name) for day in range(problem.days) for name in sorted(names)]

    def add(self, name: str, slots: tuple[Slot, ...]) -> None:
        if slots not in self.plans[name]:
            found = checker.costs(document(alone(self.problem, name), slots))
            minutes: dict[tuple[int, str], float] = defaultdict(float)
            for slot in slots:
                feed = self.problem.tanks[name].feeds[slot.feed]
                minutes[slot.day, feed.round] += feed.minutes
            self.plans[name][slots] = _Column(found["total"] - found["longest_round"], minutes)

    def mixed(self) -> tuple[float, dict[tuple[int, str], float]]:
        """The least cost of a mixture of the plans, and the prices of minutes that go with it."""
        model = mathopt.Model()
        longest = model.add_variable(lb=0.0)
        costs: list[float | mathopt.LinearBase] = [_WEIGHT * longest]
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
        return result.termination.objective_bounds.primal_bound + _lost(self.problem), prices
