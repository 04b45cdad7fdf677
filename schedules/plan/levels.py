"""Levelling the rounds: of several plans for each tank the choice that costs the room least."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from schedules.plan.grid import NEVER, UNIT, Floats, Ints
from schedules.rules import WEIGHTS

GRAIN = 1024.0
"""Minutes are counted in this part of one, so that their sums are exact in any order."""
_MARGINS = (0.1, 0.05, 0.02, 0.01)
_PASSES = 4
_MINUTE = WEIGHTS.longest_round * UNIT / GRAIN


@dataclass(slots=True)
class Pool:
    """Plans of each tank (T P): cost without minutes, minutes of each round in grains (T P R), sets by day (T D P)."""

    costs: Floats
    minutes: Floats
    sets: Ints

    @classmethod
    def empty(cls, tanks: int, days: int, rounds: int) -> Pool:
        """A pool without plans."""
        return cls(
            np.zeros((tanks, 0)),
            np.zeros((tanks, 0, rounds)),
            np.zeros((tanks, days, 0), dtype=np.int16),
        )

    def join(self, rows: Ints, other: Pool) -> None:
        """Take in more plans for some of the tanks."""
        count = other.costs.shape[1]
        tanks, _, rounds = self.minutes.shape
        costs = np.full((tanks, count), NEVER)
        minutes = np.zeros((tanks, count, rounds))
        sets = np.zeros((tanks, self.sets.shape[1], count), dtype=np.int16)
        costs[rows], minutes[rows], sets[rows] = other.costs, other.minutes, other.sets
        self.costs = np.concatenate((self.costs, costs), axis=1)
        self.minutes = np.concatenate((self.minutes, minutes), axis=1)
        self.sets = np.concatenate((self.sets, sets), axis=2)

    def trim(self, minute_price: Floats, chosen: Ints, most: int) -> Ints:
        """Drop doubles and all but the `most` cheapest plans at these prices; where the chosen ones are afterwards."""
        rows = np.arange(len(chosen))
        priced = self.priced(minute_price)
        priced[rows, chosen] = -NEVER
        order = np.argsort(priced, axis=1, kind="stable")
        sets = np.take_along_axis(self.sets, order[:, None, :], axis=2)
        ranked = np.take_along_axis(priced, order, axis=1)
        ranked[:, 1:][(sets[:, :, 1:] == sets[:, :, :-1]).all(axis=1)] = NEVER
        keep = np.take_along_axis(order, np.argsort(ranked, axis=1, kind="stable")[:, :most], axis=1)
        self.costs = np.take_along_axis(np.where(priced < NEVER / 2, self.costs, NEVER), keep, axis=1)
        self.minutes = np.take_along_axis(self.minutes, keep[:, :, None], axis=1)
        self.sets = np.take_along_axis(self.sets, keep[:, None, :], axis=2)
        return np.zeros_like(chosen)

    def priced(self, minute_price: Floats) -> Floats:
        """The cost of each plan (T P) at prices for the minutes of each round, in cost units."""
        price = np.floor(minute_price.ravel() * UNIT)
        found: Floats = self.costs + np.floor(self.minutes @ price / GRAIN)
        return found


def level(pools: list[Pool], start: list[Ints]) -> tuple[float, list[Ints]]:
    """The cost of the room's plan (in grid units) and for each pool the plans chosen (T), from a first choice on."""
    room = _Room(pools, start)
    for margin in _MARGINS:
        for _ in range(_PASSES):
            if not room.walk(margin):
                break
    while room.walk(0.0):
        pass
    return room.least, room.best


def minute_prices(pools: list[Pool], price: Floats, goal: float, steps: int) -> Floats:
    """Prices of the rounds' minutes, adding up to the weight, at which the pools' cheapest plans level the rounds.

    They are those of the best lower bound that the pools alone would give (subgradient steps towards `goal`, the cost
    of a known plan of the room in grid units).
    """
    best, best_price = -np.inf, price
    direction = np.zeros(price.size)
    pace, waited = 1.0, 0
    for _ in range(steps):
        bound, minutes = 0.0, np.zeros(price.size)
        for pool in pools:
            priced = pool.priced(price)
            plan = priced.argmin(axis=1)
            rows = np.arange(len(plan))
            bound += float(priced[rows, plan].sum())
            minutes += pool.minutes[rows, plan].sum(axis=0)
        waited += 1
        if bound > best:
            waited = 0 if bound > best + 0.002 * (goal - best) else waited
            best, best_price = bound, price
        if waited >= 8:
            pace, waited = pace * 0.6, 0
        direction = np.round(0.6 * direction + 0.4 * (minutes - np.round(minutes.mean())))
        length = float((direction * direction).sum())
        if length == 0:
            break
        step = pace * max(goal - best, 0.0) * GRAIN / length / UNIT
        price = _on_simplex(price.ravel() + step * direction).reshape(price.shape)
    return best_price


def _on_simplex(price: Floats) -> Floats:
    """The nearest prices that are not negative and add up to the weight."""
    high = -np.sort(-price)
    excess = (np.cumsum(high) - WEIGHTS.longest_round) / np.arange(1, len(high) + 1)
    shift = excess[np.flatnonzero(high > excess)[-1]]
    found: Floats = np.maximum(price - shift, 0.0)
    return found


class _Room:
    """The choice so far and the minutes it leads to."""

    def __init__(self, pools: list[Pool], start: list[Ints]) -> None:
        self.pools = pools
        self.chosen = [choice.copy() for choice in start]
        self.total: Floats = np.zeros(pools[0].minutes.shape[2])
        self.cost = 0.0
        for pool, choice in zip(pools, self.chosen, strict=True):
            rows = np.arange(len(choice))
            self.total += pool.minutes[rows, choice].sum(axis=0)
            self.cost += pool.costs[rows, choice].sum()
        self.best = [choice.copy() for choice in self.chosen]
        self.least = self.value()

    def value(self) -> float:
        """The cost of the room's plan, in grid units."""
        return float(self.cost + _MINUTE * self.total.max())

    def walk(self, margin: float) -> bool:
        """Let each tank choose anew, at prices for the rounds near the longest; whether any did."""
        changed = False
        for number, pool in enumerate(self.pools):
            for row in self._tempted(pool, self.chosen[number], margin):
                changed |= self._choose(number, row, margin)
        value = self.value()
        if value < self.least:
            self.least, self.best = value, [choice.copy() for choice in self.chosen]
            return changed
        return changed and margin > 0

    def _tempted(self, pool: Pool, chosen: Ints, margin: float) -> Ints:
        """The tanks of a pool that a plan may suit better than the chosen one.

        What minutes cost is convex, so a plan that is no better at the prices by which that rises now is no better.
        """
        if margin and self.total.any():
            floor = np.floor(self.total.max() * (1 - margin))
            over = np.maximum(self.total - floor, 0.0)
            rise = WEIGHTS.longest_round * UNIT / GRAIN / over.sum()
        else:
            over = (np.arange(len(self.total)) == self.total.argmax()).astype(np.float64)
            rise = _MINUTE
        priced = pool.costs + rise * (pool.minutes @ over)
        return np.flatnonzero((priced < priced[np.arange(len(chosen)), chosen][:, None]).any(axis=1))

    def _choose(self, number: int, row: int, margin: float) -> bool:
        pool, old = self.pools[number], self.chosen[number][row]
        others = self.total - pool.minutes[row, old]
        totals = others + pool.minutes[row]
        if margin and self.total.any():
            floor = np.floor(self.total.max() * (1 - margin))
            over = np.maximum(self.total - floor, 0.0)
            steep = WEIGHTS.longest_round * UNIT / GRAIN / 2 / over.sum()
            over = np.maximum(totals - floor, 0.0)
            value = pool.costs[row] + steep * (over * over).sum(axis=1)
        else:
            value = pool.costs[row] + _MINUTE * totals.max(axis=1)
        new = value.argmin()
        if new == old or not value[new] < value[old]:
            return False
        self.chosen[number][row] = new
        self.total = totals[new]
        self.cost += pool.costs[row, new] - pool.costs[row, old]
        return True
