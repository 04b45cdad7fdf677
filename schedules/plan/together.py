"""Some tanks of a small room planned together, on all days or some, beside the rounds of the other tanks.

It is the search of one tank (`beam`) for several at once: on each day one tank after the other takes a set of feeds,
and the most promising plans of all of them are kept. What is sought is a low sum of the tanks' costs and of the minutes
by which rounds are longer than a target, each at the weight of the longest round. A round above its target pays what
its price for minutes leaves of that weight, one below pays its price for the minutes it leaves unused; so a value is a
lower bound here too, and plans that cannot become as cheap as the present one are dropped at once.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from schedules.plan.grid import UNIT, Floats, Ints
from schedules.plan.levels import GRAIN
from schedules.plan.split import Split
from schedules.rules import WEIGHTS

_MINUTE = WEIGHTS.longest_round * UNIT / GRAIN
_EXACT = 2.0**52
"""Whole numbers up to this are exact in a float."""
_ROUNDING = 512.0  # grid units that the roundings of a plan's servings may add up to
_MIX = np.uint64(0x9E3779B97F4A7C15)


class View:
    """What the search looks up of one tank at the prices of a split (which has no other tank), on the days of a span.

    Days are counted from the first one of the span.
    """

    def __init__(self, split: Split, set_minutes: Floats, span: range, before: Ints) -> None:
        """`set_minutes` are the minutes of each set in each round of a day, in grains (S R).

        `before` are the sets of the days before the span (as many as there are).
        """
        grid = split.grid
        self.bound = float(split.bound()[0])
        self.gains = [split.gains(day).ravel() for day in span]
        self.regrets = [split.set_regrets(day)[0] for day in span]
        self.sets = grid.sets[0]
        self.minutes = set_minutes[: self.sets.shape[1]]
        self.given = np.ascontiguousarray(self.sets.T) > 0
        self.after = grid.after[0]
        self.opens_week = grid.opens_week[: span.start]
        self.feeds = np.arange(len(self.sets))
        count, self.monday = np.divmod(np.arange(grid.counts * grid.ages), grid.ages)
        older = np.minimum(self.monday + 1, grid.oldest.reshape(-1, 1) - 1)
        self.served = np.minimum(count + 1, grid.counts - 1) * grid.ages
        self._skipped = (count * grid.ages + older).ravel()
        self._columns = self.feeds * len(count)
        self.first_clock, self.first_memory = grid.first_age - 1, grid.first_memory
        for day, chosen in enumerate(before):
            self.first_clock = self.step(self.begin(day, self.first_clock), chosen[None])
            self.first_memory = self.after[self.first_memory, chosen]
        self.opens_week = grid.opens_week[span.start : span.stop]

    def values(self, day: int, clock: Ints, memory: Ints) -> Floats:
        """What each set costs on a day more than the best way on (K S), for plans so far with such clocks (K F)."""
        gain = self.gains[day].take(clock * len(self.feeds) + self.feeds)
        found: Floats = gain @ self.sets
        found -= np.minimum(gain, 0.0).sum(axis=1)[:, None]
        found += self.regrets[day].take(memory, axis=0)
        return found

    def begin(self, day: int, clock: Ints) -> Ints:
        """The clocks on a new day: a new week has no servings yet."""
        return self.monday.take(clock) if self.opens_week[day] else clock

    def step(self, clock: Ints, chosen: Ints) -> Ints:
        """The clocks after a day on which these sets were chosen."""
        skipped = self._skipped.take(clock + self._columns)
        found: Ints = np.where(self.given[chosen], self.served.take(clock), skipped)
        return found


def plan_together(
    views: Sequence[View], price: Floats, beside: Floats, target: float, limit: float, width: int, kept: int
) -> list[Ints]:
    """Plans of some tanks (for each its sets by day, D K), the most promising first; none where none is near enough.

    The days are those of the views' span. `price` (D R) is the cost of a minute by day and round at which the views
    were made, in cost units; `beside` (D R) are the minutes of the other tanks' rounds and `target` is what rounds
    should be no longer than, in grains. Plans are dropped whose cost (that of all days) and excess (that of these days)
    are above `limit`; `width` plans are kept from day to day.
    """
    price = price * UNIT / GRAIN
    limit += float(np.floor(price * (target - beside)).sum()) + _ROUNDING
    return _Together(views, price, beside - target, limit, width).run(kept)


class _Together:
    """Plans so far (K): value, clocks and memory of each tank, and `over`, today's minutes above the target (K R)."""

    def __init__(self, views: Sequence[View], price: Floats, beside: Floats, limit: float, width: int) -> None:
        self.views, self.price, self.beside, self.limit, self.width = views, price, beside, limit, width
        self.value = np.array([sum(view.bound for view in views)])
        self.clocks = [view.first_clock for view in views]
        self.memories = [view.first_memory for view in views]
        self.over = beside[:1]
        self.parents: list[Ints] = []
        self.sets: list[Ints] = []

    def run(self, kept: int) -> list[Ints]:
        for day in range(len(self.beside)):
            self.clocks = [view.begin(day, clock) for view, clock in zip(self.views, self.clocks, strict=True)]
            self.over = np.repeat(self.beside[day : day + 1], len(self.value), axis=0)
            for number in range(len(self.views)):
                self._take_set(day, number)
            self._end(day)
            if not len(self.value):
                return []
        return self._trace(kept)

    def _take_set(self, day: int, number: int) -> None:
        """Continue every plan so far by every set of one tank and keep the best."""
        view = self.views[number]
        values = view.values(day, self.clocks[number], self.memories[number]) + self.value[:, None]
        # Minutes only add to that, so most ways on need not be looked at.
        near = np.flatnonzero(values <= self.limit)
        value = values.take(near)
        parent, chosen = np.divmod(near, values.shape[1])
        over = self.over.take(parent, axis=0) + view.minutes.take(chosen, axis=0)
        steep = _MINUTE - self.price[day]
        value += np.floor(np.maximum(over, 0.0) * steep).sum(axis=1)
        value -= np.floor(np.maximum(self.over, 0.0) * steep).sum(axis=1).take(parent)
        place = _least(value, self.limit, self.width * (2 if number == len(self.views) - 1 else 1))
        parent, chosen = parent[place], chosen[place]
        self._keep(value[place], parent)
        self.over = over[place]
        self.clocks[number] = view.step(self.clocks[number], chosen)
        self.memories[number] = view.after[self.memories[number], chosen]
        self.parents.append(parent)
        self.sets.append(chosen)

    def _end(self, day: int) -> None:
        """Pay for the minutes left unused; of plans that agree in all that matters later keep the cheapest."""
        unused = np.floor(np.maximum(-self.over, 0.0) * self.price[day]).sum(axis=1)
        value = self.value + unused
        order = np.argsort(value, kind="stable")
        order = order[: int((value <= self.limit).sum())]
        # Two states with one number would only lose a plan.
        state = np.zeros(len(value), dtype=np.uint64)
        for clock, memory in zip(self.clocks, self.memories, strict=True):
            for column in (memory, *clock.T):
                state = state * _MIX + column.astype(np.uint64)
        _, first = np.unique(state[order], return_index=True)
        keep = order[np.sort(first)[: self.width]]
        self._keep(value[keep], keep)
        self.parents.append(keep)

    def _keep(self, value: Floats, places: Ints) -> None:
        self.value = value
        self.clocks = [clock.take(places, axis=0) for clock in self.clocks]
        self.memories = [memory.take(places) for memory in self.memories]

    def _trace(self, kept: int) -> list[Ints]:
        at = np.arange(min(kept, len(self.value)))
        found = [np.zeros((len(self.beside), len(at)), dtype=np.int64) for _ in self.views]
        for day in range(len(self.beside) - 1, -1, -1):
            at = self.parents.pop()[at]
            for sets in reversed(found):
                sets[day] = self.sets.pop()[at]
                at = self.parents.pop()[at]
        return found


def _least(values: Floats, limit: float, most: int) -> Ints:
    """The places of the least values, in their order, of those up to the limit."""
    near = np.flatnonzero(values <= limit)
    if not len(near):
        return near
    found = values[near]
    # The place is kept in the low end of each number: no two are equal, and the order is the same everywhere.
    tagged = np.minimum(found - found.min(), _EXACT // len(near) - 1) * len(near) + np.arange(len(near))
    if most < len(near):
        tagged.partition(most)
        tagged = tagged[:most]
    tagged.sort()
    places: Ints = near[(tagged - np.floor(tagged / len(near)) * len(near)).astype(np.int64)]
    return places
