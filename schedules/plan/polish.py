"""The last pass over a small room, where every serving shows in the longest round.

Mostly many plans of a tank cost the same and differ only in which rounds they lengthen, so the question is how the
tanks' plans fit beside each other, and changing one tank at a time soon gets stuck. Here each three tanks are planned
anew together, beside the rounds of the others, towards a target a little below the longest round. Minutes above the
target count wherever they lie, so that a long round gets shorter even while others are as long. Of choices that cost
the same the more even one is taken.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations
from typing import Final

import numpy as np

from schedules.plan.block import plan_costs
from schedules.plan.grid import UNIT, Floats, Grid, Ints
from schedules.plan.levels import GRAIN
from schedules.plan.search import RoomSearch
from schedules.plan.together import View, plan_together
from schedules.rules import WEIGHTS

SEARCHES: Final = 480
"""Of some tanks together, for a plan from nothing."""
_DROPS = (0.02, 0.01, 0.005, 0.03)  # how far below the longest round the target lies, as a part of it
_COARSE = (0.3, 0.2, 0.1, 0.05)  # the same for few tanks, where one serving makes much of a round
_FEW = 3  # tanks
_PASSES = 3  # over all groups of tanks, for each of these
_TOGETHER = 3  # tanks
_WIDTH = 300  # plans kept from day to day
_KEPT = 32
_PATIENCE = 2  # turns without progress
_STEPS = 150  # of the prices of servings, before tanks are planned together
_BEAM = 64
_MINUTE = WEIGHTS.longest_round * UNIT / GRAIN


def polish(room: RoomSearch, searches: int = SEARCHES) -> None:
    """Plan some tanks together until no three find anything better, or so many searches are spent."""
    left, stale, price = searches, 0, room.levelling(room.bound_prices)
    while left > 0 and stale < _PATIENCE and room.blocks:
        room.seek(price, _STEPS, _BEAM)
        if room.close():
            return
        before = room.value
        tanks = Tanks(room, price)
        # The other way round the same prices lead elsewhere.
        left = tanks.level(left, backwards=stale % 2 == 1)
        _hand_back(room, tanks.best)
        stale = stale + 1 if room.value >= before else 0
        price = room.levelling(price)


class Tanks:
    """The tanks of a room at prices for minutes, and by tank the present plan: sets (D), cost, minutes (D R)."""

    def __init__(self, room: RoomSearch, price: Floats) -> None:
        self.price = price
        rows = [(block, np.array([row])) for block in room.blocks for row in range(len(block.grid.tanks))]
        self.views = [View(block.split(row, price), block.set_minutes[row[0]]) for block, row in rows]
        self.grids = [block.grid.pick(row) for block, row in rows]
        self.best = [
            block.pool.sets[row, :, plan].astype(np.int64)
            for block, chosen in zip(room.blocks, room.chosen, strict=True)
            for row, plan in enumerate(chosen)
        ]
        self.go_back()
        self.least = self.value()

    def go_back(self) -> None:
        """Take the best plan found as the present one."""
        self.sets = list(self.best)
        self.costs = [float(plan_costs(grid, sets[None, :, None])[0, 0]) for grid, sets in self._with_grids()]
        self.minutes = [view.minutes[sets] for view, sets in zip(self.views, self.sets, strict=True)]
        self.total: Floats = np.sum(self.minutes, axis=0)

    def _with_grids(self) -> Iterable[tuple[Grid, Ints]]:
        return zip(self.grids, self.sets, strict=True)

    def value(self) -> float:
        """The cost of the present plan of the room, in grid units."""
        return sum(self.costs) + _MINUTE * float(self.total.max())

    def target(self, drop: float) -> float:
        """A length (in grains) by a part below the longest round."""
        return float(np.floor(self.total.max() * (1 - drop)))

    def level(self, searches: int, backwards: bool) -> int:
        """Plan each three tanks together towards targets below the longest round; the searches left."""
        number = len(self.views)
        groups = sorted(combinations(range(number), min(number, _TOGETHER)), reverse=backwards)
        for drop in (*(_COARSE if number <= _FEW else ()), *_DROPS):
            self.go_back()
            target, idle = self.target(drop), 0
            for some in groups * _PASSES:
                if idle == len(groups) or not searches:
                    break
                searches -= 1
                idle = 0 if self.plan_anew(some, target) else idle + 1
                if self.total.max() <= target:
                    target = self.target(drop)
        return searches

    def plan_anew(self, some: Sequence[int], target: float) -> bool:
        """Plan some tanks together; whether that made cost and excess over the target less, or the rounds more even."""
        beside = self.total - np.sum([self.minutes[tank] for tank in some], axis=0)
        present = _rated(np.array([sum(self.costs[tank] for tank in some)]), self.total[:, None], target)
        views = [self.views[tank] for tank in some]
        found = plan_together(views, self.price, beside, target, present[0][0], _WIDTH, _KEPT)
        if not found:
            return False
        costs = [plan_costs(self.grids[tank], sets[None])[0] for tank, sets in zip(some, found, strict=True)]
        minutes = [view.minutes[sets] for view, sets in zip(views, found, strict=True)]
        totals = beside[:, None] + np.sum(minutes, axis=0)
        values, spreads = _rated(np.sum(costs, axis=0), totals, target)
        new = np.lexsort((spreads, values))[0]
        if not (values[new], spreads[new]) < (present[0][0], present[1][0]):
            return False
        for number, tank in enumerate(some):
            self.sets[tank] = found[number][:, new]
            self.costs[tank], self.minutes[tank] = float(costs[number][new]), minutes[number][:, new]
        self.total = totals[:, new]
        if self.value() < self.least:
            self.least, self.best = self.value(), list(self.sets)
        return True


def _rated(costs: Floats, totals: Floats, target: float) -> tuple[Floats, Floats]:
    """Of some plans (K) their costs (K) with the excess of all rounds (D K R) over a target, and their unevenness."""
    excess = np.maximum(totals - target, 0.0).sum(axis=(0, 2))
    return costs + _MINUTE * excess, (totals * totals).sum(axis=(0, 2))


def _hand_back(room: RoomSearch, best: list[Ints]) -> None:
    """Let a room choose the plans of its tanks, and whatever else it knows that is cheaper."""
    chosen, first = [], 0
    for block in room.blocks:
        rows = np.arange(len(block.grid.tanks))
        sets = np.stack(best[first : first + len(rows)])
        block.take_in(rows, sets[:, :, None], np.zeros((len(rows), 1), dtype=np.bool_))
        chosen.append(np.full(len(rows), block.pool.costs.shape[1] - 1))
        first += len(rows)
    room.chosen = chosen
    room.choose(room.even_price())
