"""The column pool: the plans known of every unit of a block, from which one each is chosen."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from schedules.planning.search.arrays import NEVER, Bools, Floats, Ints
from schedules.planning.search.beam import Found
from schedules.planning.search.block import Block


@dataclass(slots=True)
class Pool:
    """Plans of each unit: cost without minutes (U P), grains of each round (U P D·K), feeds given (U P D B)."""

    costs: Floats
    minutes: Floats
    given: Bools

    @classmethod
    def empty(cls, block: Block) -> Pool:
        """A pool without plans."""
        count, days, feeds = len(block.units), block.fixed.shape[1], block.set_feeds.shape[2]
        rounds = days * block.set_minutes.shape[2]
        return cls(np.zeros((count, 0)), np.zeros((count, 0, rounds)), np.zeros((count, 0, days, feeds), np.bool_))

    def join(self, found: Found, rows: Ints | None = None) -> None:
        """Take in more plans, with `rows` only of those units."""
        if rows is not None:
            found = self._spread(found, rows)
        self.costs = np.concatenate((self.costs, found.costs), axis=1)
        self.minutes = np.concatenate((self.minutes, found.minutes), axis=1)
        self.given = np.concatenate((self.given, found.given), axis=1)

    def _spread(self, found: Found, rows: Ints) -> Found:
        """Plans of some units among those of all; the others get plans that are never chosen."""
        count, plans = len(self.costs), found.costs.shape[1]
        costs = np.full((count, plans), NEVER)
        minutes = np.zeros((count, plans, self.minutes.shape[2]))
        given = np.zeros((count, plans, *self.given.shape[2:]), dtype=np.bool_)
        costs[rows], minutes[rows] = found.costs, found.minutes
        given[rows, :, :, : found.given.shape[3]] = found.given
        return Found(costs, given, minutes)

    def priced(self, grain_prices: Floats) -> Floats:
        """The cost of each plan (U P) at prices for a grain of each round."""
        found: Floats = self.costs + self.minutes @ grain_prices.ravel()
        return found

    def trim(self, grain_prices: Floats, chosen: Ints, most: int) -> Ints:
        """Drop doubles and all but the `most` cheapest plans at these prices; the chosen ones come first then."""
        rows = np.arange(len(chosen))[:, None]
        priced = self.priced(grain_prices)
        priced[rows[:, 0], chosen] = -NEVER
        order = np.argsort(priced, axis=1, kind="stable")
        ranked = np.take_along_axis(priced, order, 1)
        given = self.given.reshape(*self.costs.shape, -1)[rows, order]
        ranked[:, 1:][(given[:, 1:] == given[:, :-1]).all(axis=2)] = NEVER
        keep = np.take_along_axis(order, np.argsort(ranked, axis=1, kind="stable")[:, :most], 1)
        dropped = np.take_along_axis(ranked, np.argsort(ranked, axis=1, kind="stable")[:, :most], 1) >= NEVER / 2
        self.costs = np.where(dropped, NEVER, np.take_along_axis(self.costs, keep, 1))
        self.minutes, self.given = self.minutes[rows, keep], self.given[rows, keep]
        return np.zeros_like(chosen)
