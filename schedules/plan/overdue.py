"""The fewest overdue days a tank can do with, and which of its rules stand in the way of none at all.

Only the hard rules and the longest gaps count here: the clocks alone are searched, which for most tanks is exact.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Literal

import numpy as np

from schedules.plan.beam import search
from schedules.plan.block import Block
from schedules.plan.cost import overdue_by_tank
from schedules.plan.grid import NEVER, UNIT, Grid, make_grid
from schedules.plan.search import RoomSearch
from schedules.plan.split import Split
from schedules.problem.types import Problem, Slot, TankFeed, TankProblem
from schedules.rules import WEIGHTS

Rule = Literal["shares", "group gaps", "closed days", "shortest gaps"]
RULES: tuple[Rule, ...] = ("shares", "group gaps", "closed days", "shortest gaps")

_WIDTH = 512
_NARROW = 48
_DAY = WEIGHTS.overdue * UNIT


@dataclass(frozen=True, slots=True)
class Fewest:
    """The fewest overdue days found for a tank, how few are proven to be needed, and a plan with the former."""

    found: int
    proven: int
    slots: tuple[Slot, ...]


def fewest_overdue(problem: Problem, tanks: Sequence[str], width: int = _WIDTH) -> dict[str, Fewest]:
    """What the longest gaps of these tanks ask for, each tank by itself."""
    known = [tank for tank in tanks if problem.tanks[tank].feeds]
    found: dict[str, Fewest] = {tank: Fewest(0, 0, ()) for tank in tanks}
    for first in range(0, len(known), 16):
        found |= _fewest(problem, known[first : first + 16], width)
    return found


def spare_days(problem: Problem, room: RoomSearch) -> None:
    """Let a room's search know plans with fewer overdue days than those it chose, where there are any."""
    late = overdue_by_tank(problem, room.slots())
    better = [
        slot
        for tank, fewest in fewest_overdue(problem, list(late)).items()
        if fewest.found < sum(late[tank].values())
        for slot in fewest.slots
    ]
    if better:
        room.take_in(better)
        room.choose(room.even_price())


def _fewest(problem: Problem, tanks: Sequence[str], width: int) -> dict[str, Fewest]:
    rounds = sorted({feed.round for tank in tanks for feed in problem.tanks[tank].feeds.values()})
    full = make_grid(problem, tanks, rounds)
    clocks = _clocks_alone(full)
    price = np.zeros((problem.days, len(rounds)))
    result = search(Split(clocks, price), width)
    block = Block(full, len(rounds))
    block.take_in(np.arange(len(tanks)), result.sets[:, :, :1], result.costs[:, :1] >= NEVER / 2)
    slots = list(block.slots(np.zeros(len(tanks), dtype=np.int64)))
    return {
        tank: Fewest(
            int(result.costs[row, 0] // _DAY),
            int(-(-result.proven[row] // _DAY)),
            tuple(slot for slot in slots if slot.tank == tank),
        )
        for row, tank in enumerate(tanks)
    }


def _clocks_alone(grid: Grid) -> Grid:
    """The grid with nothing but overdue days to pay for; a week's servings are not counted."""
    return replace(
        grid,
        week_step=np.zeros((*grid.week_step.shape[:3], 1)),
        change=np.zeros_like(grid.change),
        fixed=np.zeros_like(grid.fixed),
        set_cost=np.where(grid.set_cost >= NEVER, NEVER, 0.0),
        repeats=np.zeros_like(grid.repeats),
    )


def rules_in_the_way(problem: Problem, tanks: Iterable[str]) -> dict[str, tuple[Rule, ...]]:
    """For each tank the fewest rules without which no day had to be overdue; none where the past alone is to blame.

    Where not even all of them lifted together would do, days are overdue whatever is given: the clock ran out before
    day 0.
    """
    found: dict[str, tuple[Rule, ...]] = {}
    left = list(tanks)
    for count in range(1, len(RULES) + 1):
        for lifted in combinations(RULES, count):
            freed = Problem(
                problem.start, problem.days, {tank: _lifted(problem.tanks[tank], lifted) for tank in left}, ()
            )
            for tank, fewest in fewest_overdue(freed, left, _NARROW).items():
                if fewest.found == 0:
                    found[tank] = lifted
                    left.remove(tank)
            if not left:
                return found
    return found | dict.fromkeys(left, ())


def _lifted(tank: TankProblem, rules: Iterable[Rule]) -> TankProblem:
    for rule in rules:
        tank = _LIFT[rule](tank)
    return tank


def _without_shares(tank: TankProblem) -> TankProblem:
    return _with_feeds(tank, lambda feed: replace(feed, share=min(feed.share, 1 / len(tank.feeds))))


def _without_group_gaps(tank: TankProblem) -> TankProblem:
    return replace(_with_feeds(tank, lambda feed: replace(feed, group=None)), groups={})


def _without_closed_days(tank: TankProblem) -> TankProblem:
    return _with_feeds(tank, lambda feed: replace(feed, open=feed.wanted))


def _without_shortest_gaps(tank: TankProblem) -> TankProblem:
    return _with_feeds(tank, lambda feed: replace(feed, min_gap=1))


def _with_feeds(tank: TankProblem, change: Callable[[TankFeed], TankFeed]) -> TankProblem:
    return replace(tank, feeds={name: change(feed) for name, feed in tank.feeds.items()})


_LIFT: dict[Rule, Callable[[TankProblem], TankProblem]] = {
    "shares": _without_shares,
    "group gaps": _without_group_gaps,
    "closed days": _without_closed_days,
    "shortest gaps": _without_shortest_gaps,
}
