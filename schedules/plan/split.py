"""A tank taken apart into feeds that know their clocks and a calendar that knows what fits, held together by prices.

Each serving of a feed on a day pays its price to the feed's own clock and gets it back from the calendar (sets of
feeds that fit a day, rotation groups, powders without company), so any prices give a lower bound: the least cost of
the clocks plus the least cost of the calendar (Lagrangian decomposition). Where clock and calendar disagree about a
serving its price moves, by steps that shrink evenly, with some of the last move kept.

What a plan costs beyond the bound is its regrets: how much more each of its days costs, at these prices, than the best
way on.

The feeds of all tanks stand side by side on one axis `R` (tank by tank, padded), the longest and last one.
"""

from __future__ import annotations

import numpy as np

from schedules.plan.grid import NEVER, UNIT, Floats, Grid, Ints

_FIRST = 30.0, 5.7  # how far prices move in the first step, in cost, and how steeply that falls until the last
_AGAIN = 2.0, 3.0  # the same for prices that moved before
_FINELY = 2.0, 7.0  # the same for these where there are many steps
_MANY = 100
_KEPT = 0.7  # part of the last direction kept in the next
_GRAIN = 1024.0  # directions are rounded to this part, so that their sums are exact


class Split:
    """The prices of some tanks and the tables they lead to."""

    def __init__(self, grid: Grid, minute_price: Floats, price: Floats | None = None) -> None:
        """`minute_price` is the cost of a minute by day and round, in cost units; `price` (T D F) starts at 0."""
        self.grid, self.minute_price = grid, minute_price
        self.price = np.zeros(grid.change.shape) if price is None else price
        self.rows: Ints = np.arange(grid.minutes.size)
        self.clock: Floats = np.zeros((grid.days + 1, grid.counts, grid.ages, len(self.rows)))
        self.calendar: Floats = np.zeros((grid.days + 1, grid.after.shape[1], len(grid.tanks)))
        self._tanks = np.arange(len(grid.tanks))
        self._serve = _by_day(np.where(grid.open, serving_cost(grid, minute_price), NEVER))
        self._week_step = np.ascontiguousarray(np.transpose(grid.week_step, (1, 3, 0, 2))).reshape(
            grid.week_step.shape[1], grid.counts, -1
        )
        ready = grid.ready.reshape(-1, grid.ages)
        young = int((~ready[ready.any(axis=1)]).sum(axis=1).max(initial=0))
        self._wait = np.where(np.ascontiguousarray(ready.T[:young]), 0.0, NEVER)
        overdue = np.ascontiguousarray(grid.overdue.reshape(-1, grid.ages).T)
        self._late = overdue * _by_day(grid.ticking)[:, None, :]
        self._follows = np.ascontiguousarray(grid.after.T) * len(grid.tanks) + self._tanks
        self._set_base = [
            np.ascontiguousarray(
                (
                    (grid.repeats * grid.other_open[:, day, None, :]) @ grid.sets
                    + grid.barred
                    + grid.set_cost[:, day, None, :]
                ).T
            )
            for day in range(grid.days)
        ]
        # Tables are filled in place: making large ones anew each time costs more than the sums.
        self._paid = np.zeros((grid.days, grid.sets.shape[2], len(grid.tanks)))
        self._products = np.zeros((len(grid.tanks), grid.days, grid.sets.shape[2]))
        self._counts = [min(day - grid.week_of.index(week) + 1, grid.counts) for day, week in enumerate(grid.week_of)]
        """By day: how many numbers of servings there may be in the week by then."""
        self._members = np.ascontiguousarray(np.swapaxes(grid.sets, 1, 2))
        self.fill()

    def bound(self) -> Floats:
        """A lower bound of the cost of each tank's plans."""
        grid = self.grid
        own = self.clock[0][0, grid.first_age.ravel() - 1, self.rows].reshape(grid.first_age.shape).sum(axis=1)
        found: Floats = grid.fixed + own + self.calendar[0][grid.first_memory, self._tanks]
        return found

    def fill(self) -> None:
        """Fill the tables from the last day to the first: the cost from each day on, by clock and by memory."""
        prices = _by_day(self.price)
        np.copyto(self._paid, np.transpose(np.matmul(self.price, self.grid.sets, out=self._products), (1, 2, 0)))
        for day in range(self.grid.days - 1, -1, -1):
            clock = self._skip(day, self.clock[day])
            give = self._give(day, prices[day])[:, None, :]
            young = len(self._wait)
            np.minimum(clock[:, :young], give + self._wait, out=clock[:, :young])
            np.minimum(clock[:, young:], give, out=clock[:, young:])
            self._sets(day).min(axis=0, out=self.calendar[day])

    def gains(self, day: int) -> Floats:
        """What serving costs more than not serving on a day (N A R), negative where it pays; NEVER if not allowed."""
        skip = self._skip(day, np.empty(self.clock.shape[1:]))
        found: Floats = self._give(day, self.price[:, day].ravel())[:, None, :] - skip
        found[:, : len(self._wait)] += self._wait
        return np.minimum(found, NEVER)

    def set_regrets(self, day: int) -> Floats:
        """What each set costs more than the best one on a day after each memory (T Q S)."""
        found: Floats = self._sets(day) - self.calendar[day]
        return np.ascontiguousarray(found.T)

    def _skip(self, day: int, out: Floats) -> Floats:
        """Not serving on a day (N A R), with what follows: the rows of `out` for the counts there may be by then."""
        late = self._late[day]
        counts = self._counts[day]
        after = self.clock[day + 1][: 1 if self._closes_week(day) else counts]
        skip = out[:counts]
        np.add(after[:, 1:], late[:-1], out=skip[:, :-1])
        np.add(after[:, -1], late[-1], out=skip[:, -1])
        return skip

    def _give(self, day: int, price: Floats) -> Floats:
        """Serving on a day (N R), with what follows; NEVER where the feed is not open."""
        counts = self._counts[day]
        give: Floats = self._week_step[self.grid.week_of[day], :counts] + (self._serve[day] + price)
        young = self.clock[day + 1][:, 0]
        if self._closes_week(day):
            give += young[0]
        else:
            give += young[np.minimum(np.arange(1, counts + 1), len(young) - 1)]
        return give

    def _closes_week(self, day: int) -> bool:
        return day + 1 < self.grid.days and self.grid.opens_week[day + 1]

    def _sets(self, day: int) -> Floats:
        """Each set of feeds on a day after each memory (S Q T), with what follows."""
        found: Floats = self._set_base[day] - self._paid[day][:, None, :]
        found += self.calendar[day + 1].ravel().take(self._follows)
        return found

    def tighten(self, goal: Floats, steps: int) -> None:
        """Raise the bounds by moving prices, at most to `goal`, the cost of a known plan of each tank."""
        best, best_price = self.bound(), self.price.copy()
        direction = np.zeros(self.price.shape)
        again = _AGAIN if steps < _MANY else _FINELY
        step, fall = again if self.price.any() else _FIRST
        for _ in range(steps):
            moving = goal - best > UNIT / 1000
            if not moving.any():
                break
            direction = np.round((_KEPT * direction + (1 - _KEPT) * self._disagreement()) * _GRAIN) / _GRAIN
            self.price = self.price + np.round(step * UNIT * moving[:, None, None] * direction)
            self.fill()
            bound = self.bound()
            risen = bound > best
            best_price[risen] = self.price[risen]
            best = np.maximum(best, bound)
            step *= max(1 - fall / steps, 0.5)
        self.price = best_price
        self.fill()

    def _disagreement(self) -> Floats:
        """Where the clocks' best plans serve and the calendar's does not (1), or the other way round (-1)."""
        grid, across = self.grid, len(self.rows)
        clock, memory = grid.first_age.ravel() - 1, grid.first_memory
        count, age = np.divmod(np.arange(grid.counts * grid.ages), grid.ages)
        older = count * grid.ages + np.minimum(age + 1, grid.ages - 1)
        more = np.minimum(count + 1, grid.counts - 1) * grid.ages
        apart = np.empty(self.price.shape)
        for day in range(grid.days):
            skipped, given = older.take(clock), more.take(clock)
            if self._closes_week(day):
                skipped, given = age.take(skipped), 0
            skip = self.clock[day + 1].ravel().take(skipped * across + self.rows)
            skip += self._late[day].ravel().take(age.take(clock) * across + self.rows)
            served = self.clock[day].ravel().take(clock * across + self.rows) < skip
            clock = np.where(served, given, skipped)
            sets = self._set_base[day][:, memory, self._tanks] - self._paid[day]
            sets += self.calendar[day + 1].ravel().take(self._follows[:, memory, self._tanks])
            chosen = sets.argmin(axis=0)
            apart[:, day] = served.reshape(grid.minutes.shape) - self._members[self._tanks, chosen]
            memory = grid.after[self._tanks, memory, chosen]
        return apart


def serving_cost(grid: Grid, minute_price: Floats) -> Floats:
    """What a serving costs by its minutes, rounded down, and against the posted plan (T D F)."""
    by_feed = np.swapaxes(minute_price[:, grid.round_of], 0, 1)
    cost: Floats = np.floor(by_feed * grid.minutes[:, None, :] * UNIT) + grid.change
    return np.minimum(cost, NEVER)


def _by_day(array: Floats) -> Floats:
    """T D F as D R."""
    return np.ascontiguousarray(np.swapaxes(array, 0, 1)).reshape(array.shape[1], -1)
