"""Beam search: plans of many units at once, built from day to day.

What a plan cost so far and the guide's cost to go add up to a lower bound of what it can come to. From each day to the
next the most promising plans are kept. Of plans that agree in the state of every clock only the cheapest is
(dominance): whatever follows suits them all alike. Plans that differ only in which of several like products was given
last count as agreeing, as the next turn can be another's.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from schedules.planning.search.arrays import NEVER, Bools, Floats, Ints
from schedules.planning.search.decomposition import Decomposition

_SPARE = 2  # times the width are the candidates from which plans that agree are dropped
_MIX = 0x9E3779B97F4A7C15  # an odd number with well-mixed digits (2^64 over the golden ratio)


@dataclass(slots=True)
class Found:
    """Plans of each unit (U P), the cheapest first: cost without minutes, feeds given (U P D B), grains (U P D·K)."""

    costs: Floats
    given: Bools
    minutes: Floats


def search(decomposition: Decomposition, grain_prices: Floats, lean: Floats, width: int, kept: int) -> Found:
    """The best `kept` plans of each unit that a beam of `width` finds at the prices in force.

    `lean` (U D) is what a serving on a day costs a unit beside, in whole units: not counted in what a plan costs, it
    makes units differ that would all choose the same days.
    """
    beam = _Beam(decomposition, lean, width)
    for day in range(decomposition.first, len(grain_prices)):
        beam.step(day)
    given = beam.trace(min(kept, beam.value.shape[1]))
    minutes = decomposition.block.minutes(given)
    leaning = (given.sum(axis=3) * lean[:, None]).sum(axis=2)
    value = beam.value[:, : given.shape[1]]
    costs = value - leaning - minutes @ grain_prices.ravel() + decomposition.block.constant[:, None]
    return Found(np.where(value < NEVER / 2, costs, NEVER), given, minutes)


class _Beam:
    """The plans kept so far: cost (U W), state of each clock (U W C), and how each came about."""

    def __init__(self, decomposition: Decomposition, lean: Floats, width: int) -> None:
        self.block, self.sets = decomposition.block, decomposition.sets
        self.guide, self.lean, self.width = decomposition.guide(), lean, width
        count, clocks = len(self.block.units), self.block.inputs.shape[2]
        self.unit = np.arange(count)[:, None]
        self.states: Ints = decomposition.start.reshape(count, 1, clocks)
        self.first = decomposition.first
        self.value: Floats = np.zeros((count, 1))
        self.steps: list[tuple[Ints, Ints, Ints]] = []
        multipliers = [(_MIX * (2 * place + 1) * (place + 3)) | 1 for place in range(clocks)]
        self.mix = np.array([number % 2**63 for number in multipliers], dtype=np.int64)

    def step(self, day: int) -> None:
        """Give something on a day, and keep the best."""
        clocks = self.block.clocks
        costs, options, after = clocks.moves(day, clocks.evening(day, self.guide.clocks[day + 1]))
        bounds = self._bounds(day, costs)
        count, sets = len(bounds), bounds.shape[2]
        best = _lowest(bounds.reshape(count, -1), _SPARE * self.width)
        value = np.take_along_axis(bounds.reshape(count, -1), best, 1)
        parent, chosen = best // sets, best % sets
        inputs, states = self.block.inputs[self.unit, chosen], self.states[self.unit, parent]
        order = self._kept(value, clocks.alike[after[inputs, states]])
        taken, at = inputs[self.unit, order], states[self.unit, order]
        self.states = after[taken, at]
        self.steps.append((parent[self.unit, order], chosen[self.unit, order], options[taken, at]))
        to_go = self.guide.clocks[day + 1][self.states].sum(axis=2) + self.guide.days[day + 1][:, None]
        bound = value[self.unit, order]
        self.value = np.where(bound < NEVER / 2, bound - to_go, NEVER)

    def trace(self, kept: int) -> Bools:
        """The feeds that the first plans give (U P D B)."""
        count, feeds = len(self.block.units), self.block.set_feeds.shape[2]
        given = np.zeros((count, kept, self.first + len(self.steps), feeds + 1), dtype=np.bool_)
        at = np.broadcast_to(np.arange(kept), (count, kept))
        clock = np.arange(self.block.inputs.shape[2])
        for day in range(self.first + len(self.steps) - 1, self.first - 1, -1):
            parent, chosen, options = (kept_of_day[self.unit, at] for kept_of_day in self.steps[day - self.first])
            given[:, :, day, :feeds] = self.block.set_feeds[self.unit, chosen]
            feed = self.block.option_feeds[self.unit[..., None], clock, options - 1]
            feed = np.where(options > 0, feed, -1)
            np.put_along_axis(given[:, :, day], feed % (feeds + 1), True, axis=2)
            at = parent
        return given[..., :feeds]

    def _bounds(self, day: int, costs: Floats) -> Floats:
        """The lower bound of each plan with each set (U W F), from the costs of inputs by state."""
        mine = costs.T[self.states]
        none, answers = mine[..., 0], mine[..., 1:] - mine[..., :1]
        answers = answers.reshape(*self.value.shape, -1)
        found: Floats = np.matmul(answers, self.block.incidence)
        found += (self.value + none.sum(axis=2) + self.guide.days[day + 1][:, None])[..., None]
        found += (self.sets[:, day] + self.lean[:, day, None] * self.block.sizes)[:, None]
        return found

    def _kept(self, value: Floats, states: Ints) -> Ints:
        """Which candidates to keep, cheapest first, of those that agree only the first."""
        keys = (states * self.mix).sum(axis=2)
        order = np.argsort(keys, axis=1, kind="stable")
        ordered = np.take_along_axis(keys, order, 1)
        again = np.zeros(value.shape, dtype=np.bool_)
        np.put_along_axis(again, order[:, 1:], ordered[:, 1:] == ordered[:, :-1], 1)
        value[again] = NEVER
        most = int((value < NEVER / 2).sum(axis=1).max())
        return np.argsort(value, axis=1, kind="stable")[:, : max(1, min(most, self.width))]


def _lowest(values: Floats, count: int) -> Ints:
    """The places of the lowest values of each row, ascending; of equal ones the first, on every machine."""
    if count < values.shape[1]:
        edge = np.partition(values, count - 1, axis=1)[:, count - 1, None]
        below, level = values < edge, values == edge
        left = count - below.sum(axis=1, keepdims=True)
        taken = below | (level & (np.cumsum(level, axis=1) <= left))
        places: Ints = np.nonzero(taken)[1].reshape(len(values), count)
    else:
        places = np.broadcast_to(np.arange(values.shape[1]), values.shape)
    order = np.argsort(np.take_along_axis(values, places, 1), axis=1, kind="stable")
    return np.take_along_axis(places, order, 1)
