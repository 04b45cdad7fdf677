"""The search of a whole room: prices of minutes, plans of every unit at those prices, and the choice among them."""

from __future__ import annotations

from dataclasses import dataclass
from zlib import crc32

import numpy as np

from schedules.planning.problem.costs import Served, answered_days, cost, overdue_days, served_by_tank
from schedules.planning.problem.types import Problem, Slot
from schedules.planning.problem.weights import WEIGHTS
from schedules.planning.search.arrays import NEVER, UNIT, Floats, Ints
from schedules.planning.search.beam import search
from schedules.planning.search.block import Block, block_of, blocks_of, grain_prices, sketch
from schedules.planning.search.decomposition import Decomposition
from schedules.planning.search.levels import level, levelling_prices
from schedules.planning.search.pool import Pool
from schedules.planning.search.units import Unit, left_out, units_of

_OVERDUE_STEPS = 30  # of the prices of answers before that last beam
_LEAN = 0.1 * UNIT
"""How much a serving on one day may be preferred to one on another to make units differ: a fraction of what a minute
costs (about 1), so that it decides only between plans that are nearly equal."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to search, counted in steps so that the plan does not depend on the machine.

    For each of `searches` the prices of answers move so many times, then a beam of so many plans is kept from day to
    day. `kept` plans of each unit go into the pool from a search, `pool` stay in it; the prices of minutes move
    `price_steps` times between searches.
    """

    searches: tuple[tuple[int, int], ...]
    kept: int
    pool: int
    price_steps: int
    overdue_width: int = 0
    """A last beam for units that are left with overdue days; 0: none."""


FOLLOWING = Effort(((4, 96), (16, 192)), 16, 32, 0)
"""A plan carried on: the first search is that of the last days, the last that of units that have to move."""
AT_ONCE = Effort(((8, 24),), 8, 16, 0)
"""Enough for a first morning."""


def effort_for(tanks: int) -> Effort:
    """The search from nothing; small rooms are searched longer, as there every serving shows in the longest round."""
    if tanks <= 12:
        return Effort(((16, 512), *((0, 48),) * 6), 48, 256, 200, overdue_width=1024)
    if tanks <= 60:
        return Effort(((16, 256), (0, 24), (0, 24)), 16, 32, 100)
    return Effort(((16, 192), (0, 16)), 12, 24, 60)


class RoomSearch:
    """The search for one problem: its blocks of units, the plan chosen for each unit, what that costs."""

    def __init__(self, problem: Problem, effort: Effort) -> None:
        self.problem, self.effort = problem, effort
        self.rounds = sorted({feed.round for tank in problem.tanks.values() for feed in tank.feeds.values()})
        sketches = [sketch(problem, unit) for unit in units_of(problem)]
        self.complete = all(found.complete for found in sketches)
        self.blocks = blocks_of(problem, sketches, self.rounds)
        self.parts = [Decomposition(block) for block in self.blocks]
        self.pools = [Pool.empty(block) for block in self.blocks]
        self.chosen: list[Ints] = []
        self.value = NEVER
        self.turn = 0
        self.bound = 0.0
        """The best lower bound so far, in cost units."""

    def run(self) -> None:
        """Search from nothing."""
        if not self.blocks:
            return
        effort, prices = self.effort, self.even_prices()
        for steps, width in effort.searches:
            self.seek(prices, steps, width)
            prices = levelling_prices(self.pools, prices, self.value, effort.price_steps)
        if effort.overdue_width:
            self._search_overdue(prices)

    def _search_overdue(self, prices: Floats) -> None:
        """Search the units whose plans leave days overdue with a wide beam: one day more costs as much as a tank."""
        served = served_by_tank(self.slots())
        for block, pool in zip(self.blocks, self.pools, strict=True):
            late = np.array([_overdue(self.problem, unit, served[unit.tank]) for unit in block.units])
            if late.any():
                rows = np.flatnonzero(late)
                part = Decomposition(block_of(self.problem, [block.sketches[row] for row in rows], self.rounds))
                part.price(prices)
                part.tighten(_OVERDUE_STEPS)
                lean = leaning(part.block, self.turn, self.problem.days)
                pool.join(search(part, prices, lean, self.effort.overdue_width, self.effort.kept), rows)
        self.choose(prices)

    def even_prices(self) -> Floats:
        """The same price for a grain of every round, adding up to the weight."""
        shape = (self.problem.days, max(1, len(self.rounds)))
        return grain_prices(np.full(shape, WEIGHTS.longest_round / (shape[0] * shape[1])))

    def seek(self, prices: Floats, steps: int, width: int) -> None:
        """Look for better plans of every unit at prices for the grains of the rounds, and choose."""
        bound = 0.0
        self.turn += 1
        for part, pool in zip(self.parts, self.pools, strict=True):
            part.price(prices)
            if steps:
                part.tighten(steps)
                bound += float((part.bound + part.block.constant).sum())
            pool.join(search(part, prices, leaning(part.block, self.turn, self.problem.days), width, self.effort.kept))
            part.rest()
        self.bound = max(self.bound, bound)
        self.choose(prices)

    def choose(self, prices: Floats) -> None:
        """Choose a plan for each unit, from those cheapest at these prices and from the ones chosen before."""
        starts = [[pool.priced(prices).argmin(axis=1) for pool in self.pools]]
        starts += [self.chosen] if self.chosen else []
        self.value, chosen = min((level(self.pools, start) for start in starts), key=lambda found: found[0])
        self.chosen = [
            pool.trim(prices, choice, self.effort.pool) for pool, choice in zip(self.pools, chosen, strict=True)
        ]

    def slots(self) -> list[Slot]:
        """The servings of the plans chosen, in the order (day, tank, feed)."""
        return sorted(
            Slot(int(day), unit.tank, list(unit.feeds)[feed])
            for block, pool, chosen in zip(self.blocks, self.pools, self.chosen, strict=True)
            for unit, plans, choice in zip(block.units, pool.given, chosen, strict=True)
            for day, feed in np.argwhere(plans[choice])
        )

    def proven(self) -> float | None:
        """The lower bound on the cost of any plan; None where not every set of a day was looked at."""
        return self.bound / UNIT + cost(left_out(self.problem), ()).total if self.complete else None


def _overdue(problem: Problem, unit: Unit, served: Served) -> bool:
    """Whether a plan leaves a clock of a unit overdue."""
    return any(overdue_days(clock, problem.days, answered_days(clock, served)) for clock in unit.clocks.values())


def leaning(block: Block, turn: int, days: int) -> Floats:
    """Small preferences for days (U D), others for each tank and each search, spread evenly (golden ratio sequence)."""
    tanks = np.array([crc32(unit.tank.encode()) for unit in block.units])[:, None] / 2.0**32
    found: Floats = np.round(_LEAN * ((tanks + _GOLDEN * (np.arange(days) + days * turn)) % 1))
    return found


_GOLDEN = (5**0.5 - 1) / 2
