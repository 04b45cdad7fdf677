"""Lagrangian decomposition of units: clocks by themselves and days by themselves, held together by prices of answers.

A day's set of sorts answers clocks, and each clock would like to be answered in its own way. Both get a copy of the
answers; a price for each answer of each clock on each day, paid by the day and earned by the clock, makes the copies
agree. For any prices the least costs of the copies add up to a lower bound of the unit's cost (Fisher 1981,
doi:10.1287/mnsc.27.1.1). Prices move along subgradients by adaptive moments (Kingma & Ba 2015, arXiv:1412.6980).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from schedules.planning.search.arrays import NEVER, UNIT, Bools, Floats, Ints
from schedules.planning.search.block import Block

_FIRST_STRIDE, _LAST_STRIDE = 6.0 * UNIT, 0.5 * UNIT
"""By how much a price moves in the first and in the last step: from about half a day off the week's target down to
about the handling of one serving."""
_MOMENTUM = 0.6  # of the steps before in the next one: it dampens the zigzag of plain subgradients
_MEMORY = 0.99  # of how often a price was in dispute: prices in dispute all the time move in smaller steps
_UNDISPUTED = 1e-3  # keeps the step of a price that was never in dispute finite


@dataclass(slots=True)
class Guide:
    """What is still to come at the best prices known: the cost to go of clocks (D+1 R S) and of days (D+1 U)."""

    clocks: Floats
    days: Floats


class Decomposition:
    """The prices of answers of one block, and the best bound found at the prices of minutes in force.

    With a `first` day only the days from then on are looked at, from the states (R) of that morning.
    """

    def __init__(self, block: Block, first: int = 0, start: Ints | None = None) -> None:
        self.block, self.first = block, first
        self.start = block.clocks.start if start is None else start
        rows, days = len(block.clocks.start), block.fixed.shape[1]
        self.prices: Floats = np.zeros((rows, days, block.clocks.inputs - 1))
        self.sets: Floats = block.fixed
        self.bound: Floats = np.full(len(block.units), -NEVER)

    def price(self, grain_prices: Floats) -> None:
        """Put prices for a grain of each round in force; bounds found at other prices no longer hold."""
        self.sets = self.block.priced(grain_prices)
        self.bound = np.full(len(self.block.units), -NEVER)

    def rest(self) -> None:
        """Let go of the priced sets until prices are put in force again: in large rooms they fill memory."""
        self.sets = self.block.fixed

    def tighten(self, steps: int) -> None:
        """Move the prices of answers `steps` times and keep the best."""
        best, prices = self.prices, self.prices
        mean, square = np.zeros_like(prices), np.zeros_like(prices)
        for step in range(steps + 1):
            self.prices = prices
            bound, direction = self._bound_and_direction()
            best = np.where(self._by_unit(bound > self.bound), prices, best)
            self.bound = np.maximum(bound, self.bound)
            if step < steps:
                mean = _MOMENTUM * mean + (1 - _MOMENTUM) * direction
                square = _MEMORY * square + (1 - _MEMORY) * direction**2
                stride = _FIRST_STRIDE * (_LAST_STRIDE / _FIRST_STRIDE) ** (step / steps)
                known, length = mean / (1 - _MOMENTUM ** (step + 1)), square / (1 - _MEMORY ** (step + 1))
                prices = prices + np.round(stride * known / np.sqrt(length + _UNDISPUTED))
        self.prices = best

    def guide(self) -> Guide:
        """The cost to go from every day and state at the best prices."""
        return Guide(self._clocks_to_go(), self._days_to_go(self._answers_cost()))

    def _by_unit(self, values: Bools) -> Bools:
        """Values of units (U) beside the prices of answers (R D I-1)."""
        found: Bools = np.repeat(values, len(self.prices) // len(values))[:, None, None]
        return found

    def _answers_cost(self) -> Floats:
        """The cost of each set by day (U D F), the prices of its answers included."""
        count, days = self.sets.shape[:2]
        owed = self.prices.reshape(count, -1, days, self.prices.shape[2]).transpose(0, 2, 1, 3).reshape(count, days, -1)
        found: Floats = self.sets + np.matmul(owed, self.block.incidence)
        return found

    def _days_to_go(self, costs: Floats) -> Floats:
        least = costs.min(axis=2).T
        found: Floats = np.concatenate((np.cumsum(least[::-1], axis=0)[::-1], np.zeros((1, least.shape[1]))))
        return found

    def _clocks_to_go(self) -> Floats:
        clocks, days = self.block.clocks, self.sets.shape[1]
        found = np.zeros((days + 1, len(clocks.row)))
        for day in range(days - 1, self.first - 1, -1):
            found[day] = clocks.cost_to_go(day, clocks.evening(day, found[day + 1]), self.prices[:, day])
        return found

    def _bound_and_direction(self) -> tuple[Floats, Floats]:
        """The bound of each unit, and where its days and clocks disagree about the answers (R D I-1)."""
        block, costs, to_go = self.block, self._answers_cost(), self._clocks_to_go()
        mine = to_go[self.first][self.start].reshape(len(block.units), -1)
        bound = self._days_to_go(costs)[self.first] + mine.sum(axis=1)
        given = np.take_along_axis(block.inputs, costs.argmin(axis=2)[:, :, None], 1)
        given = given.transpose(0, 2, 1).reshape(len(block.clocks.start), -1)
        asked = self._asked(to_go)
        numbers = np.arange(1, block.clocks.inputs)
        direction = (given[..., None] == numbers).astype(np.float64) - (asked[..., None] == numbers)
        return bound, direction

    def _asked(self, to_go: Floats) -> Ints:
        """How each clock by itself would be answered (R D)."""
        clocks, rows = self.block.clocks, np.arange(len(self.prices))
        states = self.start
        asked = np.zeros((len(rows), len(to_go) - 1), dtype=np.int64)
        numbers = np.pad(clocks.number, ((0, 0), (1, 0)))
        paid = np.pad(self.prices, ((0, 0), (0, 0), (1, 0)))
        for day in range(self.first, len(to_go) - 1):
            costs, after = clocks.options(day, clocks.evening(day, to_go[day + 1]), states)
            option = (costs - np.take_along_axis(paid[:, day], numbers, 1)).argmin(axis=1)
            asked[:, day] = numbers[rows, option]
            states = clocks.next_morning(day, after[rows, option])
        return asked
