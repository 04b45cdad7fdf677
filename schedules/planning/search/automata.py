"""The clocks of many units at once, as arrays: one day's step of the dynamic program that every clock is.

Rows are the clocks of all units, each unit padded to the same number of them; their states stand one after another in
one long array. A row's inputs say how the day's set of sorts answers it, input 0 not at all; an option is one way to do
so (which feed's turn it is). Shapes: R rows, D days, S states of all rows, I inputs (0 included), O options, L feeds
last given, N counts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from schedules.planning.problem.weights import WEIGHTS
from schedules.planning.search.arrays import NEVER, UNIT, Bools, Floats, Ints, grains, units
from schedules.planning.search.clock_table import ClockTable
from schedules.planning.search.units import Unit

_REPEAT = WEIGHTS.repeat * UNIT


@dataclass(slots=True)
class Automata:
    """The tables of all rows. States are places in the long array."""

    inputs: int
    start: Ints
    """(R) the state on the morning of day 0."""
    row: Ints
    """(S) the row of a state."""
    longer: Ints
    """(S) the state after a day without an answer."""
    fresh_week: Ints
    """(S) the same state with nothing counted."""
    weekly: Floats
    """(weeks S) what a week costs that ends in a state."""
    sundays: dict[int, int]
    """Which week ends on a day."""
    late: Ints
    """The states in which a day without an answer may be overdue, which costs (R D) `overdue`."""
    is_late: Bools
    overdue: Floats
    answer_at: Ints
    """(S) where in the tables of answers, one after another, a state finds its own."""
    alike: Ints
    """(S) the state that stands for all which differ only in whose turn was last, where every turn is open as the
    others are."""
    last: Ints
    count: Ints
    gap: Ints
    """(S) 0: too early to answer; 1: too early for the feed given last; 2: any feed may be given."""
    wanted: Bools
    answered: Ints
    """(R O N+1) the state of the next morning after an option, by the count it leads to."""
    same: Bools
    """(R O L) whether an option repeats the feed last given."""
    others_open: Bools
    """(R D O)"""
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
        """The cost to go (S) after a day is over, from that of the next morning."""
        week = self.sundays.get(day)
        if week is None:
            return morning
        found: Floats = morning[self.fresh_week] + self.weekly[week]
        return found

    def cost_to_go(self, day: int, evening: Floats, prices: Floats) -> Floats:
        """The least cost to go of each state (S) on a morning; an answer earns its price (R I-1)."""
        paid = np.concatenate((np.zeros((len(prices), 1)), prices), axis=1)
        earned = np.take_along_axis(paid, self.number, 1) - NEVER * (self.number == 0)
        answers = self._answers(day, evening) - earned[..., None, None]
        return np.minimum(self._unanswered(day, evening), self._table(answers)[self.answer_at])

    def moves(self, day: int, evening: Floats) -> tuple[Floats, Ints, Ints]:
        """For each input in each state (I S): its cost, the cost to go included, the option taken, where it leads."""
        costs, after = self.options(day, evening, np.arange(len(self.row)))
        numbers = np.pad(self.number, ((0, 0), (1, 0)))[self.row]
        # Twice, so that an option of another input is worse than a forbidden one of this input.
        taken = np.stack([(costs + 2 * NEVER * (numbers != number)).argmin(axis=1) for number in range(self.inputs)])
        states = np.arange(len(self.row))
        allowed = numbers[states, taken] == np.arange(self.inputs)[:, None]
        costs = np.where(allowed, np.minimum(costs[states, taken], NEVER), NEVER)
        return costs, taken, self.next_morning(day, after[states, taken])

    def options(self, day: int, evening: Floats, states: Ints) -> tuple[Floats, Ints]:
        """For any states (K): the cost of each option and the state it leads to (K 1+O), none first."""
        rows, gap = self.row[states], self.gap[states]
        after = self.answered[rows, :, self.count[states] + self.wanted[rows, day]]
        after = np.concatenate((self.longer[states][:, None], after), axis=1)
        costs = evening[after]
        costs[:, 0] += self.overdue[rows, day] * self.is_late[states]
        repeats = self.same[rows, :, self.last[states]]
        forbidden = (gap == 0)[:, None] | (repeats & (gap == 1)[:, None]) | (self.number[rows] == 0)
        costs[:, 1:] += self.priced[rows, day] + _REPEAT * (repeats & self.others_open[rows, day]) + NEVER * forbidden
        return costs, after

    def next_morning(self, day: int, states: Ints) -> Ints:
        """The states once the count of the week that ends on a day is dropped."""
        return states if day not in self.sundays else self.fresh_week[states]

    def _unanswered(self, day: int, evening: Floats) -> Floats:
        found = evening[self.longer]
        found[self.late] += self.overdue[self.row[self.late], day]
        return found

    def _answers(self, day: int, evening: Floats) -> Floats:
        """The cost of each option by the feed given last and the count (R O L N)."""
        wanted = self.wanted[:, day, None, None]
        costs = evening[np.where(wanted, self.answered[:, :, 1:], self.answered[:, :, :-1])]
        costs += self.priced[:, day, :, None]
        repeated = _REPEAT * (self.same & self.others_open[:, day, :, None])
        found: Floats = costs[:, :, None] + repeated[..., None]
        return found

    def _table(self, answers: Floats) -> Floats:
        """The tables of answers one after another: without repeats, with any feed, and one cost for "too early"."""
        apart = (answers + (NEVER * self.same)[..., None]).min(axis=1)
        return np.concatenate((apart.ravel(), answers.min(axis=1).ravel(), [NEVER]))


def automata(
    tables: list[list[ClockTable]], members: list[Unit], days: int, sundays: dict[int, int], rounds: list[str]
) -> Automata:
    """The automata of some units from their clocks' tables."""
    clocks = max(1, *map(len, tables))
    rows = [(n * clocks + c, table, members[n]) for n, found in enumerate(tables) for c, table in enumerate(found)]
    return _Filling(len(members) * clocks, [table for _, table, _ in rows], days, sundays).filled(rows, rounds)


class _Filling:
    """Empty automata of the size that some tables need, and how a table is written into its row."""

    def __init__(self, rows: int, tables: list[ClockTable], days: int, sundays: dict[int, int]) -> None:
        shapes = [table.shape for table in tables]
        self.counts = max((shape.counts for shape in shapes), default=1)
        self.lasts = max((shape.lasts for shape in shapes), default=1)
        self.rows, self.next = rows, 1
        options = max((len(table.options) for table in tables), default=1)
        # State 0 is that of rows without a clock: it costs nothing and leads to itself.
        size = 1 + sum(shape.longer.size for shape in shapes)
        self.made = Automata(
            inputs=1 + max((option.number for table in tables for option in table.options), default=1),
            start=np.zeros(rows, dtype=np.int64),
            row=np.zeros(size, dtype=np.int64),
            longer=np.zeros(size, dtype=np.int64),
            fresh_week=np.zeros(size, dtype=np.int64),
            weekly=np.zeros((len(sundays), size)),
            sundays=sundays,
            late=np.zeros(0, dtype=np.int64),
            is_late=np.zeros(size, dtype=np.bool_),
            overdue=np.zeros((rows, days)),
            answer_at=np.full(size, 2 * rows * self.lasts * self.counts, dtype=np.int64),
            alike=np.zeros(size, dtype=np.int64),
            last=np.zeros(size, dtype=np.int64),
            count=np.zeros(size, dtype=np.int64),
            gap=np.zeros(size, dtype=np.int64),
            wanted=np.zeros((rows, days), dtype=np.bool_),
            answered=np.zeros((rows, options, self.counts + 1), dtype=np.int64),
            same=np.zeros((rows, options, self.lasts), dtype=np.bool_),
            others_open=np.zeros((rows, days, options), dtype=np.bool_),
            number=np.zeros((rows, options), dtype=np.int64),
            changes=np.zeros((rows, days, options)),
            minutes=np.zeros((rows, options)),
            rounds=np.zeros((rows, options), dtype=np.int64),
            priced=np.zeros((rows, days, options)),
        )

    def filled(self, rows: list[tuple[int, ClockTable, Unit]], rounds: list[str]) -> Automata:
        made = self.made
        for row, table, unit in rows:
            for place, option in enumerate(table.options):
                self._option(row, table, place)
                if option.feed is not None:
                    feed = unit.feeds[option.feed]
                    made.minutes[row, place] = grains(feed.minutes)
                    made.rounds[row, place] = rounds.index(feed.round)
            self._states(row, table)
        made.late = np.flatnonzero(made.is_late)
        made.priced = made.changes.copy()
        return made

    def _states(self, row: int, table: ClockTable) -> None:
        made, shape = self.made, table.shape
        mine = slice(self.next, self.next + shape.longer.size)
        made.start[row] = self.next + table.start
        made.row[mine] = row
        made.longer[mine] = self.next + shape.longer
        made.fresh_week[mine] = self.next + shape.fresh_week
        made.is_late[mine] = shape.late
        made.last[mine], made.count[mine], made.gap[mine] = shape.last, shape.count, shape.gap
        by_turns = all(option.feed is not None for option in table.options)
        made.alike[mine] = self.next + np.where(by_turns, 0, shape.last) * shape.ages * shape.counts
        made.alike[mine] += np.arange(shape.last.size) % (shape.ages * shape.counts)
        own = (row * self.lasts + shape.last) * self.counts + shape.count
        size = self.rows * self.lasts * self.counts
        made.answer_at[mine] = np.where(shape.gap == 0, 2 * size, np.where(shape.gap == 1, own, size + own))
        made.overdue[row] = units(table.overdue)
        made.wanted[row] = table.wanted
        for week, target in enumerate(table.targets):
            made.weekly[week, mine] = units(WEIGHTS.weekly * np.abs(shape.count - target))
        self.next += shape.longer.size

    def _option(self, row: int, table: ClockTable, place: int) -> None:
        made, shape, option = self.made, table.shape, table.options[place]
        made.number[row, place] = option.number
        counts = np.minimum(np.arange(self.counts + 1), shape.counts - 1)
        made.answered[row, place] = self.next + max(option.last, 0) * shape.ages * shape.counts + counts
        if option.first >= 0:
            made.same[row, place, option.first] = True
        made.others_open[row, :, place] = table.others_open[place]
        made.changes[row, :, place] = units(table.changes[place])
