"""The last pass over a small room, where every serving shows in the longest round.

Mostly many plans of a tank cost the same and differ only in which rounds they lengthen, so the question is how the
tanks' plans fit beside each other, and changing one tank at a time soon gets stuck. Here a part of the plan is made
anew together, all days of each three tanks or some days of all tanks, beside what is left as it is and towards a target
a little below the longest round. Minutes above the target count wherever they lie, so that a long round gets shorter
even while others are as long. Of choices that cost the same the more even one is taken.

Where one way of going through the parts gets stuck another one mostly goes on, so they take turns.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations, cycle
from typing import Final

import numpy as np

from schedules.plan.block import plan_costs
from schedules.plan.grid import UNIT, Floats, Grid, Ints
from schedules.plan.levels import GRAIN
from schedules.plan.search import RoomSearch
from schedules.plan.span import split_in_span
from schedules.plan.together import View, plan_together
from schedules.rules import WEIGHTS

SEARCHES: Final = 800
"""Of a part of the plan, for a plan from nothing."""
_COARSE = (0.3, 0.2, 0.1, 0.05)  # how far below the longest round, for few tanks: one serving makes much of a round
_FEW = 3  # tanks
_PASSES = 3  # over all parts, for each target
_TOGETHER = 3  # tanks
_KEPT = 32
_PATIENCE = 2  # turns without progress
_STEPS = 150  # of the prices of servings, before tanks are planned together
_BEAM = 64
_MINUTE = WEIGHTS.longest_round * UNIT / GRAIN


@dataclass(frozen=True, slots=True)
class Part:
    """What is planned anew together: these tanks on these days, keeping so many plans from day to day."""

    tanks: tuple[int, ...]
    days: range
    width: int


@dataclass(frozen=True, slots=True)
class Turn:
    """One way of going through the parts of a plan.

    Spans of `days` begin `apart` days from each other. The widths are those for a span of all tanks and for all days of
    some tanks, `drops` how far below the longest round the target lies, as a part of it.
    """

    days: int
    apart: int
    span_width: int
    tanks_width: int
    drops: tuple[float, ...]
    backwards: bool

    def parts(self, tanks: int, days: int) -> list[Part]:
        """The parts in their order."""
        starts = range(0, max(1, days - self.days + self.apart), self.apart)
        spans = [range(first, min(days, first + self.days)) for first in starts]
        groups = combinations(range(tanks), min(tanks, _TOGETHER))
        found = [Part(tuple(range(tanks)), span, self.span_width) for span in spans]
        found += [Part(some, range(days), self.tanks_width) for some in groups]
        return found[::-1] if self.backwards else found


_TURNS = (
    Turn(14, 7, 600, 150, (0.02, 0.01, 0.005, 0.03), backwards=False),
    Turn(7, 3, 300, 300, (0.015, 0.025, 0.008, 0.003), backwards=True),
    Turn(10, 4, 400, 300, (0.02, 0.01, 0.005, 0.03), backwards=False),
)


def polish(room: RoomSearch, searches: int = SEARCHES) -> None:
    """Plan parts anew until that finds nothing better, or so many searches are spent."""
    left, stale, price = searches, 0, room.levelling(room.bound_prices)
    for turn in cycle(_TURNS):
        if left <= 0 or stale >= _PATIENCE or not room.blocks:
            return
        room.seek(price, _STEPS, _BEAM)
        if room.close():
            return
        before = room.value
        tanks = Tanks(room, price)
        left = tanks.level(turn, left)
        _hand_back(room, tanks.best)
        stale = stale + 1 if room.value >= before else 0
        price = room.levelling(price)


class Tanks:
    """The tanks of a room at prices for minutes, and by tank the present plan: sets (D), cost, minutes (D R)."""

    def __init__(self, room: RoomSearch, price: Floats) -> None:
        self.price = price
        rows = [(block, np.array([row])) for block in room.blocks for row in range(len(block.grid.tanks))]
        self.days = range(room.problem.days)
        none = np.zeros(0, dtype=np.int64)
        self.views = [View(block.split(row, price), block.set_minutes[row[0]], self.days, none) for block, row in rows]
        self.grids = [block.grid.pick(row) for block, row in rows]
        self.serving_prices = [block.price[row] for block, row in rows]
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

    def level(self, turn: Turn, searches: int) -> int:
        """Plan part after part anew towards targets below the longest round; the searches left."""
        number = len(self.views)
        parts = turn.parts(number, len(self.days))
        for drop in (*(_COARSE if number <= _FEW else ()), *turn.drops):
            self.go_back()
            target, idle = self.target(drop), 0
            for part in parts * _PASSES:
                if idle == len(parts) or not searches:
                    break
                searches -= 1
                idle = 0 if self.plan_anew(part, target) else idle + 1
                if self.total.max() <= target:
                    target = self.target(drop)
        return searches

    def plan_anew(self, part: Part, target: float) -> bool:
        """Plan a part anew; whether that made cost and excess over the target less, or the rounds more even."""
        beside: Floats = self.total - np.sum([self.minutes[tank] for tank in part.tanks], axis=0)
        found = self._found(part, beside, target)
        if not found:
            return False
        costs = [plan_costs(self.grids[tank], sets[None])[0] for tank, sets in zip(part.tanks, found, strict=True)]
        minutes = [self.views[tank].minutes[sets] for tank, sets in zip(part.tanks, found, strict=True)]
        totals = beside[:, None] + np.sum(minutes, axis=0)
        values, spreads = _rated(np.sum(costs, axis=0), totals, target)
        new = np.lexsort((spreads, values))[0]
        value, spread = _rated(np.array([self._cost(part)]), self.total[:, None], target)
        if not (values[new], spreads[new]) < (value[0], spread[0]):
            return False
        for number, tank in enumerate(part.tanks):
            self.sets[tank] = found[number][:, new]
            self.costs[tank], self.minutes[tank] = float(costs[number][new]), minutes[number][:, new]
        self.total = totals[:, new]
        if self.value() < self.least:
            self.least, self.best = self.value(), list(self.sets)
        return True

    def _found(self, part: Part, beside: Floats, target: float) -> list[Ints]:
        """Plans of the part's tanks (sets, D K), as they are on the other days, beside the others' rounds (D R)."""
        span = slice(part.days.start, part.days.stop)
        views = [self._view(tank, part.days) for tank in part.tanks]
        excess = float(np.maximum(self.total[span] - target, 0.0).sum())
        limit = self._cost(part) + _MINUTE * excess
        found = plan_together(views, self.price[span], beside[span], target, limit, part.width, _KEPT)
        plans = []
        for tank, sets in zip(part.tanks, found, strict=bool(found)):
            plan = np.repeat(self.sets[tank][:, None], sets.shape[1], axis=1)
            plan[span] = sets
            plans.append(plan)
        return plans

    def _cost(self, part: Part) -> float:
        return sum(self.costs[tank] for tank in part.tanks)

    def _view(self, tank: int, days: range) -> View:
        if days == self.days:
            return self.views[tank]
        split = split_in_span(self.grids[tank], self.price, self.serving_prices[tank], self.sets[tank], days)
        return View(split, self.views[tank].minutes, days, self.sets[tank][: days.start])


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
