"""Lagrangian decomposition of units: clocks by themselves and days by themselves, held together by prices of answers.

A day's set of sorts answers clocks, and each clock would like to be answered in its own way. Both get a copy of the
answers; a price for each answer of each clock on each day, paid by the day and earned by the clock, makes the copies
agree. For any prices the least costs of the copies add up to a lower bound of the unit's cost. Prices move by
subgradient steps (Held, Wolfe & Crowder 1974, doi:10.1007/BF01580223) of Polyak's length towards the cost of a known
plan.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from schedules.planning.search.arrays import NEVER, Floats, Ints
from schedules.planning.search.block import Block

_PACE = 1.0  # of Polyak's step at first
_SLOWER = 0.7  # the pace after some steps without a better bound
_PATIENCE = 3  # that many steps
_MOMENTUM = 0.6  # of the step before in the next one: it dampens the zigzag of plain subgradients


@dataclass(slots=True)
class Guide:
    """What is still to come at the best prices known: the cost to go of clocks (D+1 R S) and of days (D+1 U)."""

    clocks: Floats
    days: Floats


class Decomposition:
    """The prices of answers of one block, and the best bound found at the prices of minutes in force."""

    def __init__(self, block: Block) -> None:
        self.block = block
        rows, days = len(block.clocks.start), block.fixed.shape[1]
        self.prices: Floats = np.zeros((rows, days, block.clocks.inputs - 1))
        self.sets: Floats = block.fixed
        self.bound: Floats = np.full(len(block.units), -NEVER)

    def price(self, grain_prices: Floats) -> None:
        """Put prices for a grain of each round in force; bounds found at other prices no longer hold."""
        self.sets = self.block.priced(grain_prices)
        self.bound = np.full(len(self.block.units), -NEVER)

    def tighten(self, goal: Floats, steps: int) -> None:
        """Move the prices of answers `steps` times; `goal` (U) are costs of known plans at the prices in force."""
        best, prices = self.prices.copy(), self.prices
        moved = np.zeros_like(prices)
        pace, waited = np.full(len(goal), _PACE), np.zeros(len(goal), dtype=np.int64)
        for step in range(steps + 1):
            self.prices = prices
            bound, direction = self._bound_and_direction()
            better = bound > self.bound
            waited = np.where(better, 0, waited + 1)
            pace = np.where(waited > _PATIENCE, pace * _SLOWER, pace)
            waited = np.where(waited > _PATIENCE, 0, waited)
            self.bound = np.maximum(bound, self.bound)
            best = np.where(self._by_unit(better), prices, best)
            if step == steps:
                break
            moved = _MOMENTUM * moved + (1 - _MOMENTUM) * direction
            length = (moved.reshape(len(goal), -1) ** 2).sum(axis=1)
            stride = pace * np.maximum(goal - bound, 0) / np.maximum(length, 1)
            prices = prices + np.round(self._by_unit(stride) * moved)
        self.prices = best

    def guide(self) -> Guide:
        """The cost to go from every day and state at the best prices."""
        return Guide(self._clocks_to_go(), self._days_to_go(self._answers_cost()))

    def _by_unit(self, values: Floats) -> Floats:
        """Values of units (U) beside the prices of answers (R D I-1)."""
        count = len(self.block.units)
        found: Floats = np.repeat(values, len(self.prices) // count)[:, None, None]
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
        found = np.zeros((days + 1, *clocks.longer.shape))
        for day in range(days - 1, -1, -1):
            costs = clocks.inputs_cost(day, clocks.evening(day, found[day + 1]))
            costs[:, 1:] -= self.prices[:, day, :, None]
            found[day] = costs.min(axis=1)
        return found

    def _bound_and_direction(self) -> tuple[Floats, Floats]:
        """The bound of each unit, and where its days and clocks disagree about the answers (R D I-1)."""
        block = self.block
        costs = self._answers_cost()
        sets = costs.argmin(axis=2)
        to_go = self._clocks_to_go()
        rows = np.arange(len(block.clocks.start))
        bound = self._days_to_go(costs)[0] + to_go[0][rows, block.clocks.start].reshape(len(block.units), -1).sum(axis=1)
        given = np.take_along_axis(block.inputs, sets[:, :, None], 1).transpose(0, 2, 1).reshape(len(rows), -1)
        asked = self._asked(to_go)
        numbers = np.arange(1, block.clocks.inputs)
        direction = (given[..., None] == numbers).astype(np.float64) - (asked[..., None] == numbers)
        return bound, direction

    def _asked(self, to_go: Floats) -> Ints:
        """How each clock by itself would be answered (R D)."""
        clocks = self.block.clocks
        rows, states = np.arange(len(clocks.start)), clocks.start
        asked = np.zeros((len(rows), len(to_go) - 1), dtype=np.int64)
        numbers = np.concatenate((np.zeros((len(rows), 1), dtype=np.int64), clocks.number), axis=1)
        for day in range(len(to_go) - 1):
            costs, after = clocks.answers(day, clocks.evening(day, to_go[day + 1]), rows, states)
            earned = np.concatenate((np.zeros((len(rows), 1)), self.prices[:, day]), axis=1)
            costs[:, 1:] += NEVER * (clocks.number == 0)
            option = (costs - np.take_along_axis(earned, numbers, 1)).argmin(axis=1)
            asked[:, day] = numbers[rows, option]
            states = clocks.next_morning(day, after[rows, option], rows)
        return asked
