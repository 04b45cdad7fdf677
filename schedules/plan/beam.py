"""The search: tanks planned day by day, keeping the plans so far that can still become the cheapest.

A plan's value is the tank's bound plus its regrets so far (see `split`), and so a lower bound of every plan it may
grow into. On the last day it is the plan's exact cost. Plans that agree in all that matters later are one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from schedules.plan.grid import NEVER, Bools, Floats, Ints
from schedules.plan.split import Split

_FIRST = 8  # of the plans so far, whose ways on tell which values are worth a look
_MIX = 0x1E3779B97F4A7C15  # odd, so that no two states mix alike in all digits
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
    """Plans so far (T K): their regrets, the state of each feed's clock (T K F), what the groups remember."""

    def __init__(self, split: Split, width: int, goal: Floats, least: int) -> None:
        grid = split.grid
        self.split, self.width, self.grid, self.least = split, width, grid, least
        number, feeds = grid.first_age.shape
        self.bound = split.bound()
        self.goal = (goal - self.bound)[:, None]
        self.value = np.zeros((number, 1))
        self.clock = grid.first_age[:, None, :] - 1
        self.memory = grid.first_memory[:, None]
        self.tank = np.arange(number)[:, None]
        self.feed = split.rows.reshape(number, 1, feeds)
        count, age = np.divmod(np.arange(grid.counts * grid.ages)[:, None], grid.ages)
        older = np.minimum(age + 1, grid.oldest.ravel() - 1)
        more = np.minimum(count + 1, grid.counts - 1) * grid.ages
        self.moves = np.concatenate((count * grid.ages + older, np.broadcast_to(more, (len(count), len(split.rows)))))
        self.monday = age.ravel()
        self.given = np.swapaxes(grid.sets, 1, 2).reshape(-1, feeds).astype(np.int64) * (self.moves.size // 2)
        # Each set as it is read off what a plan so far gains by serving each feed, its memory and its value.
        memories, fits = grid.after.shape[1:]
        self.terms = np.ones((number, feeds + memories + 1, fits))
        self.terms[:, :feeds] = grid.sets
        self.proven = np.full(number, NEVER)
        self.parents: list[Ints] = []
        self.sets: list[Ints] = []

    def run(self) -> Found:
        for day in range(self.grid.days):
            if self.grid.opens_week[day]:
                self.clock = self.monday.take(self.clock)
            at = self.clock * len(self.split.rows) + self.feed
            self._grow(at, *self._best(self._values(day, at)))
        return self._trace()

    def _values(self, day: int, at: Ints) -> Floats:
        """The value of every plan so far continued by every set (T K S)."""
        gain = self.split.gains(day).ravel().take(at)
        feeds, memories = gain.shape[2], self.grid.after.shape[1]
        self.terms[:, feeds:-1] = self.split.set_regrets(day)
        parts = np.empty((*gain.shape[:2], feeds + memories + 1))
        parts[:, :, :feeds] = gain
        parts[:, :, feeds:-1] = np.eye(memories).take(self.memory, axis=0)
        parts[:, :, -1] = self.value - np.minimum(gain, 0.0).sum(axis=2)
        return parts @ self.terms

    def _best(self, values: Floats) -> tuple[Floats, Ints, Ints]:
        """The least values of each tank in their order, with the plan and the set each comes from."""
        number, kept, fits = values.shape
        flat = values.reshape(number, kept * fits)
        limit = self._limit(flat[:, : _FIRST * fits])
        self._prune(limit[:, 0])
        below = flat < limit
        counts = np.count_nonzero(below, axis=1)
        at = np.flatnonzero(below)
        row = np.repeat(np.arange(number), counts)
        within = np.arange(len(at)) - np.repeat(np.cumsum(counts) - counts, counts)
        # The place is kept in the low end of each number: no two are equal, and the order is the same everywhere.
        span = 2.0 ** int(flat.shape[1]).bit_length()
        most = _EXACT / span - 1
        tagged = np.full((number, max(1, counts.max())), most * span)
        tagged[row, within] = np.minimum(flat.ravel().take(at), most) * span + (at - row * flat.shape[1])
        room = min(2 * self.width, tagged.shape[1])
        if room < tagged.shape[1]:
            tagged.partition(room, axis=1)
            self._prune(np.floor(tagged[:, room] / span))
        found = np.sort(tagged[:, :room], axis=1)
        value = np.floor(found / span)
        room = min(2 * self._wanted(value), room)
        if room < value.shape[1]:
            self._prune(value[:, room])
        chosen = (found - value * span)[:, :room].astype(np.int64)
        return np.where(value < min(most, NEVER), value, NEVER)[:, :room], chosen // fits, chosen % fits

    def _limit(self, first: Floats) -> Floats:
        """A value for each tank below which enough plans are left: the best so far continued give `first` (T ·)."""
        enough = 2 * self.least
        if enough >= first.shape[1]:
            return np.full_like(self.goal, NEVER)
        return np.maximum(self.goal, np.partition(first, enough, axis=1)[:, enough, None])

    def _wanted(self, value: Floats) -> int:
        """How many plans of each tank are worth keeping."""
        hopeful = int((value < self.goal).sum(axis=1).max())
        return min(self.width, max(self.least, hopeful))

    def _prune(self, value: Floats) -> None:
        self.proven = np.minimum(self.proven, value)

    def _grow(self, at: Ints, value: Floats, parent: Ints, chosen: Ints) -> None:
        """Step to the next day with the best plans, of those that agree only the cheapest."""
        feeds, fits = at.shape[2], self.grid.sets.shape[2]
        moved = at.reshape(-1, feeds).take(self.tank * at.shape[1] + parent, axis=0)
        moved += self.given.take(self.tank * fits + chosen, axis=0)
        clock = self.moves.ravel().take(moved)
        memory = self.grid.after[self.tank, self.memory[self.tank, parent], chosen]
        same = _agreeing(clock, memory, len(self.monday))
        value[same] = NEVER
        order = np.argsort(same, axis=1, kind="stable")
        ordered = value[self.tank, order]
        width = self._wanted(ordered)
        if width < ordered.shape[1]:
            self._prune(ordered[:, width])
        keep = order[:, :width]
        self.value = ordered[:, :width]
        self.clock = clock.reshape(-1, feeds).take(self.tank * clock.shape[1] + keep, axis=0)
        self.memory = memory[self.tank, keep]
        self.parents.append(parent[self.tank, keep])
        self.sets.append(chosen[self.tank, keep])

    def _trace(self) -> Found:
        days, shape = self.grid.days, self.value.shape
        sets = np.zeros((shape[0], days, shape[1]), dtype=np.int64)
        at = np.broadcast_to(np.arange(shape[1]), shape)
        for day in range(days - 1, -1, -1):
            sets[:, day] = self.sets[day][self.tank, at]
            at = self.parents[day][self.tank, at]
        costs = np.minimum(self.value + self.bound[:, None], NEVER)
        return Found(costs, sets, np.minimum(self.proven + self.bound, costs[:, 0]))


def _agreeing(clock: Ints, memory: Ints, ways: int) -> Bools:
    """Which plans agree in all that matters with a cheaper one before them (each row is sorted by value)."""
    states = memory.copy()
    # The digits of many feeds overflow; times an odd base they still mix, where an even one would push the first out.
    for f in range(clock.shape[2]):
        states *= ways | 1
        states += clock[:, :, f]
    # Sorted by their mixed digits, with the place in the low ones; should two mix alike both stay.
    places = (1 << (states.shape[1] - 1).bit_length()) - 1
    keys = (states * _MIX & ~places) | np.arange(states.shape[1])
    keys.sort(axis=1)
    order = keys & places
    ordered = np.take_along_axis(states, order, axis=1)
    same = np.zeros(order.shape, dtype=np.bool_)
    np.put_along_axis(same, order[:, 1:], ordered[:, 1:] == ordered[:, :-1], axis=1)
    return same
