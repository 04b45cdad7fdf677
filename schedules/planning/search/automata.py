"""The clocks of many units at once, as arrays: one day's step of the dynamic program that every clock is.

Rows are the clocks of all units, each unit padded to the same number of them. A row's inputs say how the day's set of
sorts answers it, input 0 not at all; an option is one way to do so (which feed's turn it is). Shapes: R rows, D days,
S states, I inputs (0 included), O options, L feeds last given, N counts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from schedules.planning.problem.weights import WEIGHTS
from schedules.planning.search.arrays import NEVER, UNIT, AnyArray, Bools, Floats, Ints, grains, units
from schedules.planning.search.clock_table import ClockTable
from schedules.planning.search.units import Unit

_REPEAT = WEIGHTS.repeat * UNIT
_EARLY = 2  # the first two blocks of the table of answers: turns kept, any feed; after them "too early"


@dataclass(slots=True)
class Automata:
    """The tables of all rows."""

    inputs: int
    start: Ints
    longer: Ints
    """(R S) the state after a day without an answer."""
    fresh_week: Ints
    weekly: Floats
    """(R weeks S) what a week costs that ends in a state."""
    sundays: dict[int, int]
    """Which week ends on a day."""
    late: Floats
    overdue: Floats
    """(R D) the cost of an unanswered day where the state is late (R S)."""
    answer_at: Ints
    """(R S) where in the table of answers a state finds its own."""
    last: Ints
    count: Ints
    wanted: Bools
    answered: Ints
    """(R O N+1) the state of the next morning after an option, by the count it leads to."""
    same: Bools
    """(R O L) whether an option repeats the feed last given."""
    others_open: Bools
    number: Ints
    """(R O) the input an option belongs to, 0 for none."""
    changes: Floats
    """(R D O) what an option adds to the churn."""
    minutes: Floats
    rounds: Ints
    priced: Floats
    """(R D O) the changes and minutes of an option at the prices in force."""

    def price(self, prices: Floats) -> None:
        """Put prices for a grain of each round (D rounds) in force."""
        self.priced = self.changes + self.minutes[:, None, :] * prices.T[self.rounds].transpose(0, 2, 1)

    def evening(self, day: int, morning: Floats) -> Floats:
        """The cost to go (R S) after a day is over, from that of the next morning."""
        week = self.sundays.get(day)
        if week is None:
            return morning
        found: Floats = np.take_along_axis(morning, self.fresh_week, 1) + self.weekly[:, week]
        return found

    def inputs_cost(self, day: int, evening: Floats) -> Floats:
        """The cost of each input in each state (R I S), the cost to go after the day included."""
        rows, _, counts = self.answered.shape
        states, lasts = self.longer.shape[1], self.same.shape[2]
        after = self._after(day)
        costs = np.take_along_axis(evening, after.reshape(rows, -1), 1).reshape(after.shape)
        costs += self.priced[:, day, :, None]
        repeated = self.same & self.others_open[:, day, :, None]
        answers = costs[:, :, None, :] + (_REPEAT * repeated)[..., None]
        table = np.full((rows, self.inputs - 1, (_EARLY * lasts * (counts - 1)) + 1), NEVER)
        size = lasts * (counts - 1)
        turned = answers + (NEVER * self.same)[..., None]
        for number in range(1, self.inputs):
            other = (NEVER * (self.number != number))[:, :, None, None]
            table[:, number - 1, :size] = (turned + other).min(axis=1).reshape(rows, size)
            table[:, number - 1, size:-1] = (answers + other).min(axis=1).reshape(rows, size)
        found = np.empty((rows, self.inputs, states))
        found[:, 0] = np.take_along_axis(evening, self.longer, 1) + self.overdue[:, day, None] * self.late
        for number in range(1, self.inputs):
            found[:, number] = np.take_along_axis(table[:, number - 1], self.answer_at, 1)
        np.minimum(found, NEVER, out=found)
        return found

    def answers(self, day: int, evening: Floats, rows: Ints, states: Ints) -> tuple[Floats, Ints]:
        """For rows in given states (both K): the cost of each option and the state it leads to (K 1+O), none first."""
        last, counts = self.last[rows, states], self.count[rows, states]
        after = self.answered[rows, :, counts + self.wanted[rows, day]]
        after = np.concatenate((self.longer[rows, states][:, None], after), axis=1)
        costs = evening[rows[:, None], after]
        repeats = self.same[rows, :, last]
        costs[:, 0] += self.overdue[rows, day] * self.late[rows, states]
        costs[:, 1:] += self.priced[rows, day]
        costs[:, 1:] += _REPEAT * (repeats & self.others_open[rows, day])
        size = self.same.shape[2] * (self.answered.shape[2] - 1)
        at = self.answer_at[rows, states]
        costs[:, 1:] += NEVER * ((at == _EARLY * size)[:, None] | (repeats & (at < size)[:, None]))
        return np.minimum(costs, NEVER), after

    def next_morning(self, day: int, states: Ints, rows: Ints) -> Ints:
        """The states once the count of the week that ends on a day is dropped."""
        return states if day not in self.sundays else self.fresh_week[rows, states]

    def _after(self, day: int) -> Ints:
        wanted = self.wanted[:, day, None, None]
        return np.where(wanted, self.answered[:, :, 1:], self.answered[:, :, :-1])


def automata(
    tables: list[list[ClockTable]], members: list[Unit], days: int, sundays: dict[int, int], rounds: list[str]
) -> Automata:
    """The automata of some units from their clocks' tables."""
    clocks = max(1, *map(len, tables))
    rows = [(n * clocks + c, table, members[n]) for n, found in enumerate(tables) for c, table in enumerate(found)]
    return _Filling(len(members) * clocks, [table for _, table, _ in rows], days, sundays).filled(rows, rounds)


class _Filling:
    """Empty automata of the size that some tables need, and how a table is written into a row."""

    def __init__(self, rows: int, tables: list[ClockTable], days: int, sundays: dict[int, int]) -> None:
        shapes = [table.shape for table in tables]
        states = max((shape.longer.size for shape in shapes), default=1)
        counts = max((shape.counts for shape in shapes), default=1)
        lasts = max((shape.lasts for shape in shapes), default=1)
        options = max((len(table.options) for table in tables), default=1)
        inputs = 1 + max((option.number for table in tables for option in table.options), default=1)
        self.size = lasts * counts
        self.counts = counts

        def ints(*shape: int) -> Ints:
            return np.zeros((rows, *shape), dtype=np.int64)

        def floats(*shape: int) -> Floats:
            return np.zeros((rows, *shape))

        def bools(*shape: int) -> AnyArray:
            return np.zeros((rows, *shape), dtype=np.bool_)

        self.made = Automata(
            inputs=inputs,
            start=ints(),
            longer=ints(states),
            fresh_week=ints(states),
            weekly=floats(len(sundays), states),
            sundays=sundays,
            late=floats(states),
            overdue=floats(days),
            answer_at=np.full((rows, states), _EARLY * self.size, dtype=np.int64),
            last=ints(states),
            count=ints(states),
            wanted=bools(days),
            answered=ints(options, counts + 1),
            same=bools(options, lasts),
            others_open=bools(days, options),
            number=ints(options),
            changes=floats(days, options),
            minutes=floats(options),
            rounds=ints(options),
            priced=floats(days, options),
        )

    def filled(self, rows: list[tuple[int, ClockTable, Unit]], rounds: list[str]) -> Automata:
        for row, table, unit in rows:
            self._states(row, table)
            for place, option in enumerate(table.options):
                self._option(row, table, place)
                if option.feed is not None:
                    feed = unit.feeds[option.feed]
                    self.made.minutes[row, place] = grains(feed.minutes)
                    self.made.rounds[row, place] = rounds.index(feed.round)
        self.made.priced = self.made.changes.copy()
        return self.made

    def _states(self, row: int, table: ClockTable) -> None:
        made, shape = self.made, table.shape
        size = shape.longer.size
        made.start[row] = table.start
        made.longer[row, :size] = shape.longer
        made.fresh_week[row, :size] = shape.fresh_week
        made.late[row, :size] = shape.late
        made.last[row, :size] = shape.last
        made.count[row, :size] = shape.count
        own = shape.last * self.counts + shape.count
        made.answer_at[row, :size] = np.where(
            shape.gap == 0, _EARLY * self.size, np.where(shape.gap == 1, own, self.size + own)
        )
        made.overdue[row] = units(table.overdue)
        made.wanted[row] = table.wanted
        for week, target in enumerate(table.targets):
            made.weekly[row, week, :size] = units(WEIGHTS.weekly * np.abs(shape.count - target))

    def _option(self, row: int, table: ClockTable, place: int) -> None:
        made, shape, option = self.made, table.shape, table.options[place]
        made.number[row, place] = option.number
        counts = np.minimum(np.arange(self.counts + 1), shape.counts - 1)
        made.answered[row, place] = max(option.last, 0) * shape.ages * shape.counts + counts
        if option.first >= 0:
            made.same[row, place, option.first] = True
        made.others_open[row, :, place] = table.others_open[place]
        made.changes[row, :, place] = units(table.changes[place])
