"""A tank taken apart into feeds that know their clocks and a calendar that knows what fits, held together by prices.

Each serving of a feed on a day pays its price to the feed's own clock and gets it back from the calendar (sets of
feeds that fit a day, rotation groups, powders without company), so any prices give a lower bound: the least cost of
the clocks plus the least cost of the calendar (Lagrangian decomposition). Where clock and calendar disagree about a
serving its price moves, by Polyak's step towards the best plan known, with some of the last move kept.

What a plan costs beyond the bound is its regrets: how much more each of its days costs, at these prices, than the best
way on.

The feeds of all tanks stand side by side on one axis `R` (tank by tank, padded), the longest and last one.
"""

from __future__ import annotations

import numpy as np

from schedules.plan.grid import NEVER, UNIT, Bools, Floats, Grid, Ints

_STEP = 0.8
_KEPT = 0.7  # part of the last direction kept in the next
_GRAIN = 1024.0  # directions are rounded to this part, so that their sums are exact
_PATIENCE = 8  # steps without progress before the pace slackens
_IDLE = 24  # steps without progress of any tank before the prices are left as they are


class Split:
    """The prices of some tanks and the tables they lead to."""

    def __init__(self, grid: Grid, minute_price: Floats, price: Floats | None = None) -> None:
        """`minute_price` is the cost of a minute by day and round, in cost units; `price` (T D F) starts at 0."""
        self.grid, self.minute_price = grid, minute_price
        self.price = np.zeros(grid.change.shape) if price is None else price
        self.clock: list[Floats] = []  # by day, N A R
        self.calendar: list[Floats] = []  # by day, T Q
        self.rows: Ints = np.arange(grid.minutes.size)
        self._tanks = np.arange(len(grid.tanks))
        self._serve = _by_day(serving_cost(grid, minute_price))
        self._week_step = np.ascontiguousarray(np.transpose(grid.week_step, (1, 3, 0, 2))).reshape(
            grid.week_step.shape[1], grid.counts, -1
        )
        self._ready = np.ascontiguousarray(grid.ready.reshape(-1, grid.ages).T)
        self._overdue = np.ascontiguousarray(grid.overdue.reshape(-1, grid.ages).T)
        self._ticking = _by_day(grid.ticking)
        self._open = _by_day(grid.open)
        self._follows = (self._tanks[:, None, None] * grid.after.shape[1] + grid.after).ravel()
        self._set_base = [
            (grid.repeats * grid.other_open[:, day, None, :]) @ grid.sets + grid.barred + grid.set_cost[:, day, None, :]
            for day in range(grid.days)
        ]
        self._taken: list[Bools] = []
        self._chosen: list[Ints] = []
        self._direction = np.zeros(self.price.shape)
        self._pace = np.full(len(grid.tanks), _STEP)
        self.fill()

    def bound(self) -> Floats:
        """A lower bound of the cost of each tank's plans."""
        grid = self.grid
        own = self.clock[0][0, grid.first_age.ravel() - 1, self.rows].reshape(grid.first_age.shape).sum(axis=1)
        found: Floats = grid.fixed + own + self.calendar[0][self._tanks, grid.first_memory]
        return found

    def fill(self) -> None:
        """Fill the tables from the last day to the first: the cost from each day on, by clock and by memory."""
        grid = self.grid
        clock = np.zeros((grid.counts, grid.ages, len(self.rows)))
        calendar = np.zeros(grid.after.shape[:2])
        self.clock, self.calendar, self._taken, self._chosen = [clock], [calendar], [], []
        prices = _by_day(self.price)
        for day in range(grid.days - 1, -1, -1):
            skip, give = self._ways(day, clock, prices[day])
            sets = self._sets(day, calendar)
            taken = give[:, None, :] < skip
            taken &= self._ready & self._open[day]
            clock = np.where(taken, give[:, None, :], skip)
            chosen = sets.argmin(axis=2)
            calendar = sets.min(axis=2)
            self.clock.append(clock)
            self.calendar.append(calendar)
            self._taken.append(taken)
            self._chosen.append(chosen)
        for table in (self.clock, self.calendar, self._taken, self._chosen):
            table.reverse()

    def gains(self, day: int) -> Floats:
        """What serving costs more than not serving on a day (N A R), negative where it pays; NEVER if not allowed."""
        skip, give = self._ways(day, self.clock[day + 1], self.price[:, day].ravel())
        found: Floats = np.where(self._ready & self._open[day], give[:, None, :] - skip, NEVER)
        return found

    def set_regrets(self, day: int) -> Floats:
        """What each set costs more than the best one on a day after each memory (T Q S)."""
        found: Floats = self._sets(day, self.calendar[day + 1]) - self.calendar[day][:, :, None]
        return found

    def _ways(self, day: int, clock: Floats, price: Floats) -> tuple[Floats, Floats]:
        """Not serving (N A R) and serving (N R) on a day, with what follows; `clock` is the day after's table."""
        grid = self.grid
        skip = np.empty(clock.shape)
        if day + 1 < grid.days and grid.opens_week[day + 1]:
            clock = clock[:1]
        skip[:, :-1] = clock[:, 1:]
        skip[:, -1] = clock[:, -1]
        skip += self._overdue * self._ticking[day]
        give = self._week_step[grid.week_of[day]] + (self._serve[day] + price)
        young = clock[:, 0]
        if len(young) == 1:
            give += young
        else:
            give[:-1] += young[1:]
            give[-1] += young[-1]
        return skip, give

    def _sets(self, day: int, calendar: Floats) -> Floats:
        """Each set of feeds on a day after each memory (T Q S), with what follows."""
        grid = self.grid
        paid = self.price[:, day, None, :] @ grid.sets
        found: Floats = self._set_base[day] - paid
        found += calendar.ravel().take(self._follows).reshape(found.shape)
        return found

    def tighten(self, goal: Floats, steps: int) -> None:
        """Raise the bounds by moving prices, at most to `goal`, the cost of a known plan of each tank."""
        best, best_price = self.bound(), self.price.copy()
        direction, pace = self._direction, self._pace
        waited = np.zeros(len(best))
        idle = 0
        for _ in range(steps):
            apart = self._disagreement()
            direction = np.round((_KEPT * direction + (1 - _KEPT) * apart) * _GRAIN) / _GRAIN
            length = (direction * direction).sum(axis=(1, 2))
            step = pace * np.maximum(goal - best, 0.0) / np.maximum(length, 1 / _GRAIN)
            self.price = self.price + np.round(step[:, None, None] * direction)
            self.fill()
            bound = self.bound()
            rising = bound > best + 0.002 * (goal - best)
            idle = 0 if rising.any() else idle + 1
            waited = np.where(rising, 0, waited + 1)
            pace = np.where(waited >= _PATIENCE, 0.6 * pace, pace)
            waited = np.where(waited >= _PATIENCE, 0, waited)
            risen = bound > best
            best_price[risen] = self.price[risen]
            best = np.maximum(best, bound)
            if idle >= _IDLE or not (goal - best > UNIT / 1000).any():
                break
        self._direction, self._pace = direction, pace
        self.price = best_price
        self.fill()

    def _disagreement(self) -> Floats:
        """Where the clocks' best plans serve and the calendar's does not (1), or the other way round (-1)."""
        grid = self.grid
        age, memory = grid.first_age.ravel() - 1, grid.first_memory
        count = np.zeros_like(age)
        apart = np.empty(self.price.shape)
        members = np.ascontiguousarray(np.swapaxes(grid.sets, 1, 2))
        for day in range(grid.days):
            if grid.opens_week[day]:
                count = np.zeros_like(age)
            served = self._taken[day][count, age, self.rows]
            chosen = self._chosen[day][self._tanks, memory]
            apart[:, day] = served.reshape(grid.minutes.shape) - members[self._tanks, chosen]
            memory = grid.after[self._tanks, memory, chosen]
            age = np.where(served, 0, np.minimum(age + 1, grid.ages - 1))
            count = np.minimum(count + served, grid.counts - 1)
        return apart


def serving_cost(grid: Grid, minute_price: Floats) -> Floats:
    """What a serving costs by its minutes, rounded down, and against the posted plan (T D F)."""
    by_feed = np.swapaxes(minute_price[:, grid.round_of], 0, 1)
    cost: Floats = np.floor(by_feed * grid.minutes[:, None, :] * UNIT) + grid.change
    return np.minimum(cost, NEVER)


def _by_day(
    array: np.ndarray[tuple[int, ...], np.dtype[np.generic]],
) -> np.ndarray[tuple[int, ...], np.dtype[np.generic]]:
    """T D F as D R."""
    return np.ascontiguousarray(np.swapaxes(array, 0, 1)).reshape(array.shape[1], -1)
