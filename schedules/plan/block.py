"""A block of tanks that are searched together, and the plans found for them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np

from schedules.plan.beam import search
from schedules.plan.grid import NEVER, UNIT, Bools, Floats, Grid, Ints
from schedules.plan.levels import GRAIN, Pool
from schedules.plan.split import Split, serving_cost
from schedules.problem.types import Slot
from schedules.rules import WEIGHTS

_SOLVED = UNIT / 100
"""A tank is solved when its plan costs no more than this beyond its bound."""
_NEAR = 0.005  # a plan this near its bound, as a part of it, is not searched for in earnest
_NARROW = 32  # plans from day to day; up to here it is not worth while to tell tanks apart
TOGETHER = 16  # tanks in one wide search
_LIGHT = 0.25  # of an overdue day's weight, where some are known to be needed


class Block:
    """The plans of some tanks (`pool`) and their bounds at the prices asked for last (`proven`, in grid units)."""

    def __init__(self, grid: Grid, rounds: int) -> None:
        self.grid = grid
        self._searched = grid
        self.price: Floats = np.zeros(grid.change.shape)
        self._serving = self.price  # what servings cost by their minutes when the prices moved last
        self.proven = np.full(len(grid.tanks), -NEVER)
        self.pool = Pool.empty(len(grid.tanks), grid.days, grid.days * rounds)
        self.set_minutes = _set_minutes(grid, rounds)

    def seek(self, minute_price: Floats, steps: int, width: int, kept: int) -> None:
        """Look for better plans at these prices for minutes, after the prices of servings moved `steps` times.

        `width` plans are kept from day to day, `kept` plans of each tank taken in. Tanks whose plan is near their bound
        are left out of a wide search.
        """
        rows = np.arange(len(self.grid.tanks))
        # What minutes cost more than the last time is paid by clock and calendar alike: they agreed by then.
        serving = serving_cost(self.grid, minute_price)
        if self.price.any():
            self.price = self.price - np.round((serving - self._serving) / 2)
        self._serving = serving
        split = Split(self._searched, minute_price, self.price)
        if steps:
            split.tighten(self.least(minute_price), steps)
            self.price = split.price
        self.proven = split.bound()
        if width <= _NARROW:
            self._search(split, rows, width, kept)
            return
        apart = self.least(minute_price) - self.proven
        # Tanks alike in how far plan and bound are apart keep about as many plans from day to day.
        order = np.argsort(apart, kind="stable")
        order = order[apart[order] > np.maximum(_NEAR * self.proven[order], _SOLVED)]
        for first in range(0, len(order), TOGETHER):
            some = order[first : first + TOGETHER]
            self._search(self.split(some, minute_price), some, width, kept)

    def split(self, rows: Ints, minute_price: Floats) -> Split:
        """Some of the tanks taken apart, at prices for minutes and the prices of servings known so far."""
        return Split(self._searched.pick(rows), minute_price, self.price[rows])

    def _search(self, split: Split, rows: Ints, width: int, kept: int) -> None:
        found = search(split, width, self.least(split.minute_price)[rows], kept)
        self.proven[rows] = np.maximum(self.proven[rows], found.proven)
        self.take_in(rows, found.sets[:, :, :kept], found.costs[:, :kept] >= NEVER / 2)

    def know_overdue(self, needed: Mapping[str, int]) -> None:
        """Search from now on knowing that every plan of these tanks has at least that many overdue days.

        The days needed are paid for beforehand and a further one costs less than it does, so no plan costs more than it
        does and one with as few as needed costs the same; but prices cannot save half of a day any more, and the bound
        rises (`weight · days >= light · days + (weight - light) · needed`).
        """
        rows = [row for row, tank in enumerate(self.grid.tanks) if needed.get(tank)]
        overdue, fixed = self.grid.overdue.copy(), self.grid.fixed.copy()
        for row in rows:
            overdue[row] *= _LIGHT
            fixed[row] += (1 - _LIGHT) * WEIGHTS.overdue * UNIT * needed[self.grid.tanks[row]]
        self._searched = replace(self.grid, overdue=overdue, fixed=fixed)

    def least(self, minute_price: Floats) -> Floats:
        """The cost of each tank's best plan at prices for minutes."""
        found: Floats = self.pool.priced(minute_price).min(axis=1, initial=NEVER)
        return found

    def take_in(self, rows: Ints, sets: Ints, missing: Bools) -> None:
        """Add plans (T D K) of some tanks to the pool, those that are `missing` (T K) as never to be chosen."""
        costs = np.where(missing, NEVER, plan_costs(self.grid.pick(rows), sets))
        minutes = self.set_minutes[rows[:, None, None], sets]
        by_round = np.moveaxis(minutes, 2, 1).reshape(len(rows), sets.shape[2], -1)
        self.pool.join(rows, Pool(costs, by_round, sets.astype(np.int16)))

    def take_in_slots(self, slots: Iterable[Slot]) -> None:
        """Add one plan of each tank, given by its servings, which must keep the hard rules."""
        rows = {tank: row for row, tank in enumerate(self.grid.tanks)}
        members = np.zeros((len(rows), self.grid.days, self.grid.minutes.shape[1]))
        for slot in slots:
            if slot.tank in rows:
                row = rows[slot.tank]
                members[row, slot.day, self.grid.feeds[row].index(slot.feed)] = 1.0
        power = 2.0 ** np.arange(members.shape[2])
        wanted = members @ power
        known = power @ self.grid.sets + np.where(self.grid.set_cost[:, 0] >= NEVER, NEVER, 0.0)
        same = known[:, None, :] == wanted[:, :, None]
        missing = ~same.any(axis=2).all(axis=1)
        self.take_in(np.arange(len(rows)), same.argmax(axis=2)[:, :, None], missing[:, None])

    def plans(self) -> dict[str, Ints]:
        """All plans known of each tank (sets, D K)."""
        known = self.pool.costs < NEVER / 2
        return {tank: self.pool.sets[row][:, known[row]] for row, tank in enumerate(self.grid.tanks)}

    def take_in_plans(self, plans: Mapping[str, Ints]) -> None:
        """Add plans of some tanks (sets, D K), which must keep the hard rules."""
        rows = np.array([row for row, tank in enumerate(self.grid.tanks) if tank in plans], dtype=np.int64)
        if not len(rows):
            return
        found = [plans[self.grid.tanks[row]] for row in rows]
        counts = np.array([one.shape[1] for one in found])
        missing = np.arange(counts.max()) >= counts[:, None]
        sets = np.zeros((len(rows), self.grid.days, counts.max()), dtype=np.int64)
        for place, one in enumerate(found):
            sets[place, :, : one.shape[1]] = one
        self.take_in(rows, sets, missing)

    def slots(self, chosen: Ints) -> Iterable[Slot]:
        """The servings of the chosen plans (T)."""
        for row, plan in enumerate(chosen):
            tank, feeds = self.grid.tanks[row], self.grid.feeds[row]
            for day, f in np.argwhere(self.grid.sets[row][:, self.pool.sets[row, :, plan]].T).tolist():
                yield Slot(day, tank, feeds[f])


def plan_costs(grid: Grid, sets: Ints) -> Floats:
    """The cost of plans (T K) given by their sets (T D K), without minutes; they must keep the hard rules."""
    tank = np.arange(len(grid.tanks))[:, None]
    shape = (sets.shape[0], sets.shape[2], grid.first_age.shape[1])
    at, feed = tank[:, :, None], np.arange(shape[2])[None, None, :]
    age = np.broadcast_to(grid.first_age[:, None, :] - 1, shape)
    count = np.zeros(shape, dtype=np.int64)
    memory = np.broadcast_to(grid.first_memory[:, None], shape[:2])
    costs = np.broadcast_to(grid.fixed[:, None], shape[:2]).copy()
    members = np.swapaxes(grid.sets, 1, 2) > 0
    for day in range(grid.days):
        if grid.opens_week[day]:
            count = np.zeros(shape, dtype=np.int64)
        chosen = sets[:, day]
        given = members[tank, chosen]
        late = grid.overdue[at, feed, age] * grid.ticking[:, day, None, :]
        step = grid.week_step[:, grid.week_of[day]][at, feed, count] + grid.change[:, day, None, :]
        again = grid.repeats[tank, memory] * grid.other_open[:, day, None, :]
        costs += np.where(given, step + again, late).sum(axis=2) + grid.set_cost[:, day][tank, chosen]
        memory = grid.after[tank, memory, chosen]
        age = np.where(given, 0, np.minimum(age + 1, grid.ages - 1))
        count = np.minimum(count + given, grid.counts - 1)
    found: Floats = costs
    return found


def _set_minutes(grid: Grid, rounds: int) -> Floats:
    """The minutes of each set in each round of a day, in grains (T S R)."""
    grains = np.round(grid.minutes * GRAIN)
    found = [np.where(grid.round_of == number, grains, 0.0)[:, None, :] @ grid.sets for number in range(rounds)]
    return np.stack([minutes[:, 0] for minutes in found], axis=2)
