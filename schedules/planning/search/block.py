"""A block of units of a like size as arrays: their clocks' automata and the sets that fit their days.

Shapes: U units, C clocks of a unit, D days, F sets, B feeds, K rounds, I inputs, O options.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from schedules.planning.problem.calendar import weeks
from schedules.planning.problem.types import Problem
from schedules.planning.problem.weights import CHURN_DAYS, WEIGHTS
from schedules.planning.search.arrays import GRAIN, NEVER, UNIT, Bools, Floats, Ints, grains, units
from schedules.planning.search.automata import Automata, automata
from schedules.planning.search.clock_table import ClockTable, changes, clock_table
from schedules.planning.search.day_sets import DaySet, day_sets
from schedules.planning.search.sorts import Sort, sorts_of, with_own_gaps
from schedules.planning.search.units import Unit
from schedules.room.kinds import ACCOMPANIED

_MOST_UNITS = 32
"""Units in one block: enough that arrays outweigh the interpreter, few enough that a thousand tanks stay small."""


@dataclass(frozen=True, slots=True)
class Sketch:
    """One unit prepared: its sorts, the sets that fit a day (and whether these are all), its clocks as automata."""

    unit: Unit
    sorts: list[Sort]
    sets: list[DaySet]
    complete: bool
    tables: list[ClockTable]

    @property
    def size(self) -> tuple[int, int]:
        """How many sets and clocks: like goes with like."""
        return len(self.sets), len(self.tables)


@dataclass(slots=True)
class Block:
    """The arrays of some units."""

    sketches: list[Sketch]
    clocks: Automata
    inputs: Ints
    """(U F C) the input that a set gives a clock."""
    incidence: Floats
    """(U C·(I-1) F) the same as zeros and ones."""
    fixed: Floats
    """(U D F) what a set costs on a day, minutes and what its clocks decide apart."""
    sizes: Floats
    """(U F) how many feeds a set has."""
    set_minutes: Floats
    """(U F K) in grains, likewise."""
    set_feeds: Bools
    """(U F B) the feeds that a set decides on."""
    option_feeds: Ints
    """(U C O) the feed that an option decides on, -1 for none."""
    feed_minutes: Floats
    """(U B K) in grains."""
    constant: Floats
    """(U) the churn of a plan that gives nothing."""

    @property
    def units(self) -> list[Unit]:
        """The units in order."""
        return [found.unit for found in self.sketches]

    def priced(self, prices: Floats) -> Floats:
        """The cost of each set by day (U D F) at prices for a grain of each round (D K)."""
        self.clocks.price(prices)
        found: Floats = self.fixed + np.matmul(prices, self.set_minutes.transpose(0, 2, 1))
        return found

    def minutes(self, given: Bools) -> Floats:
        """The grains of each round (U P D·K) of plans (U P D B)."""
        found: Floats = np.matmul(given.astype(np.float64), self.feed_minutes[:, None])
        return found.reshape(*given.shape[:2], -1)


def sketch(problem: Problem, unit: Unit) -> Sketch:
    """Prepare one unit."""
    sorts = sorts_of(unit)
    clocks = with_own_gaps(unit, sorts)
    sets, complete = day_sets(unit, sorts, clocks)
    tables = [clock_table(problem, unit, key, clock, sorts, sets) for key, clock in clocks.items()]
    return Sketch(unit, sorts, sets, complete, [table for table in tables if _matters(table)])


def blocks_of(problem: Problem, sketches: list[Sketch], rounds: list[str]) -> list[Block]:
    """Blocks of units of a like size."""
    waiting = sorted(sketches, key=lambda sketch: (sketch.size, sketch.unit.tank))
    found = []
    while waiting:
        sets, clocks = waiting[-1].size
        like = [
            sketch for sketch in waiting[-_MOST_UNITS:] if sketch.size[0] > sets / 3 and sketch.size[1] > clocks / 2
        ]
        found.append(block_of(problem, waiting[-len(like) :], rounds))
        del waiting[-len(like) :]
    return found


def block_of(problem: Problem, sketches: list[Sketch], rounds: list[str]) -> Block:
    """The arrays of these units."""
    sundays = [week.last for week in weeks(problem) if week.whole]
    members = [sketch.unit for sketch in sketches]
    tables = [sketch.tables for sketch in sketches]
    clocks = automata(tables, members, problem.days, {day: n for n, day in enumerate(sundays)}, rounds)
    sets, feeds = max(len(sketch.sets) for sketch in sketches), max(len(unit.feeds) for unit in members)
    count, rows = len(members), max(1, *map(len, tables))
    options = clocks.number.shape[1]
    block = Block(
        sketches,
        clocks,
        np.zeros((count, sets, rows), dtype=np.int64),
        np.zeros((count, rows * (clocks.inputs - 1), sets)),
        np.full((count, problem.days, sets), NEVER),
        np.zeros((count, sets)),
        np.zeros((count, sets, len(rounds))),
        np.zeros((count, sets, feeds), dtype=np.bool_),
        np.full((count, rows, options), -1, dtype=np.int64),
        np.zeros((count, feeds, len(rounds))),
        np.zeros(count),
    )
    for place, found in enumerate(sketches):
        _fill(problem, block, place, found, rounds)
    return block


def _matters(table: ClockTable) -> bool:
    """Whether a clock has anything to say: a gap to keep, a cost, a feed to choose."""
    shape = table.shape
    return bool(
        (shape.gap < 2).any()
        or any(table.overdue)
        or any(target is not None for target in table.targets)
        or shape.lasts > 1
    )


def _fill(problem: Problem, block: Block, place: int, sketch: Sketch, rounds: list[str]) -> None:
    unit, names = sketch.unit, list(sketch.unit.feeds)
    for number, name in enumerate(names):
        feed = unit.feeds[name]
        block.feed_minutes[place, number, rounds.index(feed.round)] = grains(feed.minutes)
    width = block.clocks.inputs - 1
    for row, table in enumerate(sketch.tables):
        block.inputs[place, : len(sketch.sets), row] = table.inputs
        for number, option in enumerate(table.options):
            if option.feed is not None:
                block.option_feeds[place, row, number] = names.index(option.feed)
        for number in range(1, width + 1):
            chosen = block.inputs[place, : len(sketch.sets), row] == number
            block.incidence[place, row * width + number - 1, : len(sketch.sets)] = chosen
    holds = np.zeros((len(sketch.sets), len(sketch.sorts)))
    for number, members in enumerate(sketch.sets):
        holds[number, list(members)] = 1
    _fill_sets(problem, block, place, sketch, holds)
    block.constant[place] = sum(
        units(WEIGHTS.churn if slot.day < CHURN_DAYS else WEIGHTS.late_churn)
        for slot in unit.posted
        if slot.day < problem.days
    )


def _fill_sets(problem: Problem, block: Block, place: int, sketch: Sketch, holds: Floats) -> None:
    """What the sets of a unit cost by day: `holds` says which sorts are in which set (F, sorts)."""
    unit, days, count = sketch.unit, problem.days, len(sketch.sets)
    firsts = [unit.feeds[sort.feeds[0]] for sort in sketch.sorts]
    block.sizes[place, :count] = holds.sum(axis=1)
    shut, churn = np.ones((days, len(firsts))), np.zeros((days, len(firsts)))
    for number, (sort, feed) in enumerate(zip(sketch.sorts, firsts, strict=True)):
        shut[list(feed.open), number] = 0
        if sort.turns is None:
            churn[:, number] = units(changes(problem, unit, sort.feeds[0]))
            feed_place = list(unit.feeds).index(sort.feeds[0])
            block.set_feeds[place, :count, feed_place] = holds[:, number]
            block.set_minutes[place, :count] += holds[:, number, None] * block.feed_minutes[place, feed_place]
    fine = holds @ np.array([feed.kind in ACCOMPANIED for feed in firsts], dtype=np.float64)
    drawn = holds @ np.array([feed.draws for feed in firsts], dtype=np.float64)
    adults = np.array([day in unit.adults for day in range(days)], dtype=np.float64)
    alone = WEIGHTS.unaccompanied * UNIT * fine * (drawn == 0)
    cost = adults[:, None] * alone + churn @ holds.T
    block.fixed[place, :, :count] = np.where(shut @ holds.T > 0, NEVER, cost)


def grain_prices(minute_prices: Floats) -> Floats:
    """Prices of minutes (cost) as whole units for a grain, rounded down so that they add up to at most the weight."""
    found: Floats = np.floor(minute_prices * UNIT / GRAIN)
    return found
