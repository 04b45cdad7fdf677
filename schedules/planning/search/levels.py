"""The master problem: of the plans known of each unit the choice that costs the room least, rounds levelled.

A choice is improved unit by unit, at prices for what lies above a floor a little below the longest round, which rises
to it: while the floor is low many rounds count, so that the choice does not get stuck on one peak.
"""

from __future__ import annotations

import numpy as np

from schedules.planning.problem.weights import WEIGHTS
from schedules.planning.search.arrays import GRAIN, UNIT, Floats, Ints
from schedules.planning.search.pool import Pool

_MARGINS = (0.1, 0.05, 0.02, 0.01, 0.0)
"""The floors, as parts below the longest round."""
_PASSES = 4  # over all units at each floor; more change hardly anything
_GRAIN_COST = WEIGHTS.longest_round * UNIT / GRAIN

_MOMENTUM = 0.6
_SLOWER = 0.6
_PATIENCE = 8
_PROGRESS = 0.002  # of what is left between plan and bound: a smaller gain of a step counts as none


def level(pools: list[Pool], start: list[Ints]) -> tuple[float, list[Ints]]:
    """The cost of the room's plan and for each pool the plans chosen (U), from a first choice on."""
    choice = _Choice(pools, start)
    for margin in _MARGINS:
        for _ in range(_PASSES):
            if not choice.walk(margin):
                break
    return choice.least, choice.best


def levelling_prices(pools: list[Pool], prices: Floats, goal: float, steps: int) -> Floats:
    """Prices of the rounds' grains (D K), adding up to the weight, at which the pools' cheapest plans level the rounds.

    They are those of the best lower bound that the pools alone would give: subgradient steps towards `goal`, the cost
    of a known plan of the room, each followed by a projection on the prices that are allowed.
    """
    best, best_prices, direction = -np.inf, prices, np.zeros(prices.size)
    pace, waited = 1.0, 0
    for _ in range(steps):
        bound, minutes = 0.0, np.zeros(prices.size)
        for pool in pools:
            priced = pool.priced(prices)
            cheapest, rows = priced.argmin(axis=1), np.arange(len(priced))
            bound += float(priced[rows, cheapest].sum())
            minutes += pool.minutes[rows, cheapest].sum(axis=0)
        waited = 0 if bound > best + _PROGRESS * max(goal - best, 0.0) else waited + 1
        if bound > best:
            best, best_prices = bound, prices
        if waited >= _PATIENCE:
            pace, waited = pace * _SLOWER, 0
        direction = np.round(_MOMENTUM * direction + (1 - _MOMENTUM) * (minutes - np.round(minutes.mean())))
        length = float((direction * direction).sum())
        if length == 0:
            break
        moved = prices.ravel() + pace * max(goal - best, 0.0) / length * direction
        prices = _allowed(moved).reshape(prices.shape)
    return best_prices


def _allowed(prices: Floats) -> Floats:
    """The nearest prices that are not negative and add up to the weight (projection on a simplex), rounded down."""
    high = -np.sort(-prices)
    excess = (np.cumsum(high) - _GRAIN_COST) / np.arange(1, len(high) + 1)
    shift = excess[np.flatnonzero(high > excess)[-1]]
    found: Floats = np.floor(np.maximum(prices - shift, 0.0))
    return found


class _Choice:
    """The choice so far and the rounds it leads to."""

    def __init__(self, pools: list[Pool], start: list[Ints]) -> None:
        self.pools = pools
        self.chosen = [choice.copy() for choice in start]
        self.rounds: Floats = np.zeros(pools[0].minutes.shape[2])
        self.cost = 0.0
        for pool, choice in zip(pools, self.chosen, strict=True):
            rows = np.arange(len(choice))
            self.rounds += pool.minutes[rows, choice].sum(axis=0)
            self.cost += float(pool.costs[rows, choice].sum())
        self.best, self.least = [choice.copy() for choice in self.chosen], self._value()

    def walk(self, margin: float) -> bool:
        """Let each unit choose again; whether any did."""
        changed = False
        for number, pool in enumerate(self.pools):
            for row in self._tempted(pool, self.chosen[number], margin):
                changed |= self._choose(number, int(row), margin)
        if (value := self._value()) < self.least:
            self.least, self.best = value, [choice.copy() for choice in self.chosen]
        return changed

    def _value(self) -> float:
        return self.cost + _GRAIN_COST * float(self.rounds.max(initial=0.0))

    def _tempted(self, pool: Pool, chosen: Ints, margin: float) -> Ints:
        """The units of a pool that another plan may suit better.

        What minutes cost is convex, so a plan that is no better at the prices by which that rises now is no better.
        """
        over = np.maximum(self.rounds - self._floor(margin), 0.0)
        if not margin or not over.any():
            over = (np.arange(len(over)) == self.rounds.argmax()).astype(np.float64)
        priced = pool.costs + _GRAIN_COST / over.sum() * (pool.minutes @ over)
        return np.flatnonzero((priced < priced[np.arange(len(chosen)), chosen][:, None]).any(axis=1))

    def _floor(self, margin: float) -> float:
        return float(np.floor(self.rounds.max() * (1 - margin)))

    def _choose(self, number: int, row: int, margin: float) -> bool:
        pool, old = self.pools[number], self.chosen[number][row]
        rounds = self.rounds - pool.minutes[row, old] + pool.minutes[row]
        over = np.maximum(self.rounds - self._floor(margin), 0.0).sum()
        if margin and over:
            above = np.maximum(rounds - self._floor(margin), 0.0)
            value = pool.costs[row] + _GRAIN_COST / 2 / over * (above * above).sum(axis=1)
        else:
            value = pool.costs[row] + _GRAIN_COST * rounds.max(axis=1)
        new = value.argmin()
        if not value[new] < value[old]:
            return False
        self.chosen[number][row] = new
        self.rounds = rounds[new]
        self.cost += float(pool.costs[row, new] - pool.costs[row, old])
        return True
