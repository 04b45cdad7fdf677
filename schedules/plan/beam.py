"""The search: tanks planned day by day, keeping the plans so far that can still become the cheapest.

A plan's value is the tank's bound plus its regrets so far (see `split`), and so a lower bound of every plan it may
grow into. On the last day it is the plan's exact cost. Plans that agree in all that matters later are one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from schedules.plan.grid import NEVER, Bools, Floats, Ints
from schedules.plan.split import Split

_EXACT = 2.0**52
"""Whole numbers up to this are exact in a float."""


@dataclass(frozen=True, slots=True)
class Found:
    """Plans of each tank, cheapest first: their costs (T K, in grid units; NEVER for none) and sets by day (T D K)."""

    costs: Floats
    sets: Ints
    proven: Floats
    """T: no plan of the tank costs less at these prices."""


def search(split: Split, width: int, goal: Floats | None = None, least: int = 1) -> Found:
    """The best plans found for each tank at the prices of a split, keeping `width` of them from day to day.

    With `goal` (T), the cost of a known plan of each tank, only `least` are kept of those that cannot become cheaper.
    """
    number = len(split.grid.tanks)
    return _Search(split, width, np.full(number, NEVER) if goal is None else goal, least).run()


class _Search:
    """Plans so far (T K): their value, the state of each feed's clock (T K F), what the groups remember."""

    def __init__(self, split: Split, width: int, goal: Floats, least: int) -> None:
        grid = split.grid
        self.split, self.width, self.grid = split, width, grid
        self.goal, self.least = goal[:, None], least
        number, feeds = grid.first_age.shape
        self.value = split.bound()[:, None]
        self.clock = grid.first_age[:, None, :] - 1
        self.memory = grid.first_memory[:, None]
        self.tank = np.arange(number)[:, None]
        self.feed = split.rows.reshape(number, 1, feeds)
        self.given = np.ascontiguousarray(np.swapaxes(grid.sets, 1, 2)) > 0
        count, age = np.divmod(np.arange(grid.counts * grid.ages), grid.ages)
        older = np.minimum(age + 1, grid.oldest.reshape(-1, 1) - 1)
        self.skipped = (count * grid.ages + older).ravel()
        self.served = np.minimum(count + 1, grid.counts - 1) * grid.ages
        self.monday = age
        self.proven = np.full(number, NEVER)
        self.parents: list[Ints] = []
        self.sets: list[Ints] = []

    def run(self) -> Found:
        for day in range(self.grid.days):
            if self.grid.opens_week[day]:
                self.clock = self.monday.take(self.clock)
            self._grow(*self._best(self._values(day)))
        return self._trace()

    def _values(self, day: int) -> Floats:
        """The value of every plan so far continued by every set (T K S)."""
        split = self.split
        gain = split.gains(day).ravel().take(self.clock * len(split.rows) + self.feed)
        values: Floats = gain @ self.grid.sets
        values += (self.value - np.minimum(gain, 0.0).sum(axis=2))[:, :, None]
        values += split.set_regrets(day)[self.tank, self.memory]
        return values

    def _best(self, values: Floats) -> tuple[Floats, Ints, Ints]:
        """The least values of each tank, with the plan and the set each comes from."""
        number, kept, fits = values.shape
        flat = values.reshape(number, kept * fits)
        # The place is kept in the low end of each number: no two are equal, and the order is the same everywhere.
        above = flat - flat.min(axis=1, keepdims=True)
        tagged = np.minimum(above, _EXACT // flat.shape[1] - 1) * flat.shape[1] + np.arange(flat.shape[1])
        hopeful = int((flat < self.goal).sum(axis=1).max())
        room = min(2 * min(self.width, max(self.least, hopeful)), flat.shape[1])
        if room < flat.shape[1]:
            tagged.partition(room, axis=1)
            self._prune(flat[self.tank, _place(tagged[:, room : room + 1], flat.shape[1])])
        place = _place(np.sort(tagged[:, :room], axis=1), flat.shape[1])
        return np.minimum(flat[self.tank, place], NEVER), place // fits, place % fits

    def _prune(self, values: Floats) -> None:
        if values.shape[1]:
            self.proven = np.minimum(self.proven, values.min(axis=1))

    def _grow(self, value: Floats, parent: Ints, chosen: Ints) -> None:
        """Step to the next day with the best plans, of those that agree only the cheapest."""
        clock = self.clock[self.tank, parent]
        clock = np.where(
            self.given[self.tank, chosen],
            self.served.take(clock),
            self.skipped.take(clock + self.feed * len(self.served)),
        )
        memory = self.grid.after[self.tank, self.memory[self.tank, parent], chosen]
        value = np.where(_agreeing(clock, memory, len(self.served)), NEVER, value)
        order = np.argsort(value, axis=1, kind="stable")
        hopeful = int((value < self.goal).sum(axis=1).max())
        width = min(self.width, max(self.least, hopeful))
        keep = order[:, :width]
        self._prune(value[self.tank, order[:, width:]])
        self.value = value[self.tank, keep]
        self.clock, self.memory = clock[self.tank, keep], memory[self.tank, keep]
        self.parents.append(parent[self.tank, keep])
        self.sets.append(chosen[self.tank, keep])

    def _trace(self) -> Found:
        days, shape = self.grid.days, self.value.shape
        sets = np.zeros((shape[0], days, shape[1]), dtype=np.int64)
        at = np.broadcast_to(np.arange(shape[1]), shape)
        for day in range(days - 1, -1, -1):
            sets[:, day] = self.sets[day][self.tank, at]
            at = self.parents[day][self.tank, at]
        return Found(self.value, sets, np.minimum(self.proven, self.value[:, 0]))


def _place(tagged: Floats, width: int) -> Ints:
    found: Ints = (tagged - np.floor(tagged / width) * width).astype(np.int64)
    return found


def _agreeing(clock: Ints, memory: Ints, ways: int) -> Bools:
    """Which plans agree in all that matters with a cheaper one before them (each row is sorted by value)."""
    states = memory.astype(np.uint64)
    for f in range(clock.shape[2]):
        states = states * np.uint64(ways) + clock[:, :, f].astype(np.uint64)
    order = np.argsort(states, axis=1, kind="stable")
    ordered = np.take_along_axis(states, order, axis=1)
    same = np.zeros(order.shape, dtype=np.bool_)
    np.put_along_axis(same, order[:, 1:], ordered[:, 1:] == ordered[:, :-1], axis=1)
    return same
