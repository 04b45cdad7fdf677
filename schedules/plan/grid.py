"""A handful of tanks as arrays: what the search needs to know, padded to the largest of them.

Costs are whole numbers, `UNIT` to one unit of cost, rounded down and held in floats: their sums are exact in any
order, so a plan does not depend on the machine, and a bound made of them stays below the truth.

Axes: `T` tanks, `D` days, `F` feeds of a tank, `N` servings so far this week, `A` days since the last serving less
one, `S` sets of feeds that fit one day, `Q` what the rotation groups remember, `R` rounds of a day.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schedules.plan.day_sets import DaySets, day_sets, first_memory
from schedules.problem.calendar import Week, clock_starts, given_before, week_target, weeks
from schedules.problem.types import Problem, TankFeed, TankProblem
from schedules.rules import CHURN_DAYS, WEIGHTS

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

UNIT = 2.0**14
NEVER = 2.0**40
"""A cost that stands for "not allowed", far above any real one."""
_MOST_COUNTED = 8  # servings of one feed in a week, and none


@dataclass(frozen=True, slots=True)
class Grid:
    """The arrays of some tanks; see the module for the axes."""

    tanks: tuple[str, ...]
    feeds: tuple[tuple[str, ...], ...]
    week_of: tuple[int, ...]
    opens_week: tuple[bool, ...]
    oldest: Ints  # T F: the age beyond which nothing changes for the feed
    first_age: Ints  # T F
    first_memory: Ints  # T
    ready: Bools  # T F A: old enough to be given again
    open: Bools  # T D F
    overdue: Floats  # T F A: what a day costs on which a feed of this age is not served
    ticking: Floats  # T D F: 1 where the feed was wanted long enough to be overdue
    week_step: Floats  # T W F N: what one serving more costs or saves against a week's target
    change: Floats  # T D F: what a serving costs or saves against the posted plan
    fixed: Floats  # T: what no plan can change
    minutes: Floats  # T F
    round_of: Ints  # T F
    sets: Floats  # T F S: 1 where the set holds the feed
    set_cost: Floats  # T D S: powders without company; NEVER where a set is none of the tank's
    after: Ints  # T Q S: what the groups remember after a set
    barred: Floats  # T Q S: NEVER where a group's gap forbids the set
    repeats: Floats  # T Q F: cost of giving a feed again, where another one is open
    other_open: Floats  # T D F: 1 where another feed of the same group is open

    @property
    def days(self) -> int:
        """How many days the plan has."""
        return len(self.week_of)

    @property
    def ages(self) -> int:
        """How many ages are told apart."""
        return int(self.ready.shape[2])

    @property
    def counts(self) -> int:
        """How many numbers of servings in a week are told apart."""
        return int(self.week_step.shape[3])

    def pick(self, rows: Ints) -> Grid:
        """The grid of some of the tanks, without padding that only the others needed."""
        arrays: dict[str, Any] = {
            one.name: value[rows] for one in fields(self) if isinstance(value := getattr(self, one.name), np.ndarray)
        }
        used = int((arrays["set_cost"][:, 0] < NEVER).sum(axis=1).max())
        for name in ("sets", "set_cost", "after", "barred"):
            arrays[name] = np.ascontiguousarray(arrays[name][:, :, :used])
        tanks, feeds = tuple(self.tanks[row] for row in rows), tuple(self.feeds[row] for row in rows)
        return replace(self, tanks=tanks, feeds=feeds, **arrays)


def make_grid(problem: Problem, tanks: Sequence[str], rounds: Sequence[str]) -> Grid:
    """The arrays of `tanks`; `rounds` numbers the rounds of a day."""
    calendar = weeks(problem.start.weekday(), problem.days)
    shape = _Shape.of(problem, tanks, calendar)
    grid = shape.empty(problem, tanks)
    for row, name in enumerate(tanks):
        tank = problem.tanks[name]
        _fill_sets(grid, row, tank)
        for f, feed in enumerate(grid.feeds[row]):
            _fill_feed(grid, row, f, tank.feeds[feed], calendar)
            _fill_age(grid, row, f, problem, tank.feeds[feed])
            grid.round_of[row, f] = rounds.index(tank.feeds[feed].round)
            _fill_rivals(grid, row, f, tank)
    _fill_posted(grid, problem)
    return grid


@dataclass(frozen=True, slots=True)
class _Shape:
    """How large the arrays of some tanks are."""

    calendar: Sequence[Week]
    feeds: int
    counts: int
    ages: int
    sets: int
    memories: int

    @classmethod
    def of(cls, problem: Problem, tanks: Sequence[str], calendar: Sequence[Week]) -> _Shape:
        found = [problem.tanks[tank] for tank in tanks]
        feeds = [feed for tank in found for feed in tank.feeds.values()]
        targets = [
            week_target(feed, week) - given_before(feed, week) for feed in feeds for week in calendar if week.whole
        ]
        fits = [day_sets(tank) for tank in found]
        return cls(
            calendar,
            max(1, *(len(tank.feeds) for tank in found)),
            min(1 + math.ceil(max([0.0, *targets])), _MOST_COUNTED),
            max((_oldest(problem, feed) for feed in feeds), default=1),
            max(len(fit.sets) for fit in fits),
            max(len(fit.after) for fit in fits),
        )

    def empty(self, problem: Problem, tanks: Sequence[str]) -> Grid:
        """The arrays before anything is known of the tanks."""
        t, d, f, s, q = len(tanks), problem.days, self.feeds, self.sets, self.memories
        return Grid(
            tanks=tuple(tanks),
            feeds=tuple(tuple(sorted(problem.tanks[tank].feeds)) for tank in tanks),
            week_of=tuple(w for w, week in enumerate(self.calendar) for _ in range(week.first, week.last + 1)),
            opens_week=tuple(day == week.first for week in self.calendar for day in range(week.first, week.last + 1)),
            oldest=np.full((t, f), 1, dtype=np.int64),
            first_age=np.ones((t, f), dtype=np.int64),
            first_memory=np.zeros(t, dtype=np.int64),
            ready=np.zeros((t, f, self.ages), dtype=np.bool_),
            open=np.zeros((t, d, f), dtype=np.bool_),
            overdue=np.zeros((t, f, self.ages)),
            ticking=np.zeros((t, d, f)),
            week_step=np.zeros((t, len(self.calendar), f, self.counts)),
            change=np.zeros((t, d, f)),
            fixed=np.zeros(t),
            minutes=np.zeros((t, f)),
            round_of=np.zeros((t, f), dtype=np.int64),
            sets=np.zeros((t, f, s)),
            set_cost=np.full((t, d, s), NEVER),
            after=np.zeros((t, q, s), dtype=np.int64),
            barred=np.full((t, q, s), NEVER),
            repeats=np.zeros((t, q, f)),
            other_open=np.zeros((t, d, f)),
        )


def _oldest(problem: Problem, feed: TankFeed) -> int:
    """The age beyond which no rule tells ages apart within the plan."""
    # A feed never given stands at the oldest age, which none that is given in the plan can reach.
    reached = problem.days + (1 if feed.last is None else 1 - feed.last)
    return min(max(feed.min_gap, feed.max_gap, 1), reached)


def _fill_sets(grid: Grid, row: int, tank: TankProblem) -> None:
    fit: DaySets = day_sets(tank)
    sets, memories, feeds = len(fit.sets), len(fit.after), len(tank.feeds)
    adults = np.zeros((grid.days, 1))
    adults[list(tank.adults)] = WEIGHTS.unaccompanied * UNIT
    for s, chosen in enumerate(fit.sets):
        grid.sets[row, list(chosen), s] = 1.0
    grid.set_cost[row, :, :sets] = adults * np.array(fit.alone)
    grid.after[row, :memories, :sets] = fit.after
    grid.barred[row, :memories, :sets] = np.where(fit.barred, NEVER, 0.0)
    grid.repeats[row, :memories, :feeds] = np.where(fit.repeats, WEIGHTS.repeat * UNIT, 0.0)
    grid.first_memory[row] = first_memory(tank)


def _fill_age(grid: Grid, row: int, f: int, problem: Problem, feed: TankFeed) -> None:
    oldest = _oldest(problem, feed)
    grid.oldest[row, f] = oldest
    grid.first_age[row, f] = oldest if feed.last is None else min(-feed.last, oldest)
    grid.ready[row, f, max(feed.min_gap, 1) - 1 :] = True
    grid.overdue[row, f, feed.max_gap - 1 :] = WEIGHTS.overdue * UNIT
    if feed.last is None:
        grid.ready[row, f, oldest - 1 :] = True
        grid.overdue[row, f, oldest - 1 :] = WEIGHTS.overdue * UNIT


def _fill_feed(grid: Grid, row: int, f: int, feed: TankFeed, calendar: Sequence[Week]) -> None:
    grid.open[row, list(feed.open), f] = True
    grid.minutes[row, f] = feed.minutes
    grid.ticking[row, :, f] = [
        start is not None and day - start >= feed.max_gap for day, start in enumerate(clock_starts(feed, grid.days))
    ]
    whole = [w for w, week in enumerate(calendar) if week.whole]
    targets = [week_target(feed, calendar[w]) - given_before(feed, calendar[w]) for w in whole]
    grid.fixed[row] += sum(math.floor(WEIGHTS.weekly * UNIT * abs(target)) for target in targets)
    off = np.abs(np.arange(grid.counts + 1) - np.array(targets)[:, None])
    grid.week_step[row, whole, f] = np.floor(WEIGHTS.weekly * UNIT * (off[:, 1:] - off[:, :-1]))


def _fill_rivals(grid: Grid, row: int, f: int, tank: TankProblem) -> None:
    """On which days another feed of the same group is open."""
    mine = tank.feeds[grid.feeds[row][f]]
    if mine.group is None:
        return
    for name, other in tank.feeds.items():
        if name != grid.feeds[row][f] and other.group == mine.group:
            grid.other_open[row, list(other.open), f] = 1.0


def _fill_posted(grid: Grid, problem: Problem) -> None:
    """What a serving of the first days costs, or saves where it was posted."""
    if not problem.posted:
        return
    end = min(CHURN_DAYS, grid.days)
    rows = {tank: row for row, tank in enumerate(grid.tanks)}
    grid.change[:, :end] = WEIGHTS.churn * UNIT
    for slot in problem.posted:
        row = rows.get(slot.tank)
        if row is not None and slot.day < end and slot.feed in grid.feeds[row]:
            grid.fixed[row] += WEIGHTS.churn * UNIT
            grid.change[row, slot.day, grid.feeds[row].index(slot.feed)] = -WEIGHTS.churn * UNIT
