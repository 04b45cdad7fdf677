"""One clock as an automaton: its states, what an answer costs, where each answer leads.

A state is (the feed last given, days since the last answer, wanted days answered this week). The days are counted up to
what the clock's gaps can tell apart; the feed is kept only where feeds take turns, the count only where a week has a
target. The state is that of the morning, before anything is given.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from schedules.planning.problem.calendar import run_starts, week_targets, weeks
from schedules.planning.problem.types import Clock, Problem
from schedules.planning.problem.weights import CHURN_DAYS, WEIGHTS
from schedules.planning.search.arrays import Bools, Ints
from schedules.planning.search.day_sets import DaySet
from schedules.planning.search.sorts import Sort
from schedules.planning.search.units import Unit


@dataclass(frozen=True, slots=True)
class Option:
    """One way to answer a clock: the input it belongs to, the first and the last of its feeds given (-1: no turns).

    `feed` is the feed that this option decides on, None where the set of the day says already what is given.
    """

    number: int
    first: int
    last: int
    feed: str | None


@dataclass(frozen=True, slots=True)
class Shape:
    """The states of a clock: which follows which, and what each may do. Arrays over states unless said otherwise."""

    lasts: int
    ages: int
    counts: int
    longer: Ints
    """The state of the next morning if nothing is given."""
    fresh_week: Ints
    """The same state with nothing counted this week."""
    count: Ints
    late: Bools
    """Whether leaving the clock unanswered makes the day overdue."""
    gap: Ints
    """0: too early to answer; 1: too early for the feed given last; 2: any feed may be given."""
    last: Ints


@lru_cache(maxsize=1024)
def shape_of(lasts: int, ages: int, counts: int, min_gap: int, max_gap: int, own_gaps: tuple[int, ...]) -> Shape:
    """The states of a clock with these gaps; `own_gaps` are those of the feeds that take turns."""
    last, age, count = (axis.ravel() for axis in np.indices((lasts, ages, counts)))
    own = np.array([*own_gaps, *[0] * (lasts - len(own_gaps))])[last]
    older = np.minimum(age + 1, ages - 1)
    return Shape(
        lasts,
        ages,
        counts,
        (last * ages + older) * counts + count,
        (last * ages + age) * counts,
        count,
        age + 1 >= max_gap,
        np.where(age + 1 < min_gap, 0, np.where(age + 1 < own, 1, 2)),
        last,
    )


@dataclass(frozen=True, slots=True)
class ClockTable:
    """A clock of a unit as an automaton. Costs are in the weights' units, not rounded."""

    shape: Shape
    start: int
    wanted: tuple[bool, ...]
    overdue: tuple[float, ...]
    """What leaving the clock unanswered costs on a day, in a state that is late."""
    targets: tuple[float, ...]
    """For each whole week its target in days."""
    options: tuple[Option, ...]
    others_open: tuple[tuple[bool, ...], ...]
    """For each option the days on which another feed of the clock is open: only then a repeat costs."""
    changes: tuple[tuple[float, ...], ...]
    """For each option by day what giving its feed adds to the churn (nothing where the day's set decides the feed)."""
    inputs: tuple[int, ...]
    """For each set of a day the input it gives this clock, 0 for none."""


def clock_table(
    problem: Problem, unit: Unit, key: str, clock: Clock, sorts: list[Sort], sets: list[DaySet]
) -> ClockTable:
    """The automaton of one clock of a unit."""
    answering = [place for place, sort in enumerate(sorts) if sort.feeds[0] in clock.feeds]
    rotates = clock.rotate and len(clock.feeds) > 1
    feeds = [feed for place in answering for feed in sorts[place].feeds] if rotates else []
    options, inputs = _options(key, sorts, sets, answering, feeds)
    lasts = max(1, len(feeds))
    first = feeds.index(clock.last.feed) if clock.last and clock.last.feed in feeds else lasts
    lasts += 1 if feeds and first == lasts else 0
    counts = _most_counted(problem, clock) + 1
    taking_turns = {feed for sort in sorts if sort.turns == key for feed in sort.feeds}
    own_gaps = tuple(unit.feeds[feed].min_gap if feed in taking_turns else 0 for feed in feeds)
    ages = max(clock.min_gap, clock.max_gap or 1, *own_gaps, 1)
    never = clock.max_gap or ages + 1
    shape = shape_of(lasts, ages, counts, clock.min_gap, never, own_gaps)
    age = ages if clock.last is None else min(-clock.last.day, ages)
    start = ((first if feeds else 0) * ages + age - 1) * counts + min(clock.earlier_days, counts - 1)
    wanted = set(clock.wanted)
    return ClockTable(
        shape,
        start,
        tuple(day in wanted for day in range(problem.days)),
        _overdue(clock, problem.days),
        tuple(target for _, _, target in week_targets(clock, problem)),
        options,
        tuple(_others_open(unit, clock, feeds, option, problem.days) for option in options),
        tuple(changes(problem, unit, option.feed) for option in options),
        inputs,
    )


def changes(problem: Problem, unit: Unit, feed: str | None) -> tuple[float, ...]:
    """By day what giving a feed adds to the churn of a plan that gives nothing."""
    if feed is None:
        return (0.0,) * problem.days
    found = list(_added(problem.days, problem.posted_days))
    for slot in unit.posted:
        if slot.feed == feed and slot.day < problem.days:
            found[slot.day] = -found[slot.day]
    return tuple(found)


@lru_cache(maxsize=16)
def _added(days: int, posted_days: int) -> tuple[float, ...]:
    """By day what one serving that was not posted adds to the churn."""
    weights = (WEIGHTS.churn if day < CHURN_DAYS else WEIGHTS.late_churn for day in range(days))
    return tuple(weight if day < posted_days else 0.0 for day, weight in enumerate(weights))


def _options(
    key: str, sorts: list[Sort], sets: list[DaySet], answering: list[int], feeds: list[str]
) -> tuple[tuple[Option, ...], tuple[int, ...]]:
    """The options of a clock and the input that each set gives it; `feeds` are those taking turns."""
    if not feeds:
        known = set(answering)
        return (Option(1, -1, -1, None),), tuple(int(bool(known.intersection(members))) for members in sets)
    ends = [_ends(members, answering, sorts) for members in sets]
    numbers = {found: number for number, found in enumerate(dict.fromkeys(end for end in ends if end), 1)}
    options: list[Option] = []
    for (first, last), number in numbers.items():
        if sorts[first].turns == key:
            options += [Option(number, feeds.index(feed), feeds.index(feed), feed) for feed in sorts[first].feeds]
        else:
            ends_at = [feeds.index(sorts[place].feeds[0]) for place in (first, last)]
            options.append(Option(number, ends_at[0], ends_at[1], None))
    return tuple(options), tuple(numbers[end] if end else 0 for end in ends)


def _ends(members: DaySet, answering: list[int], sorts: list[Sort]) -> tuple[int, int] | None:
    """The first and the last sort of a set that answers a clock, in the order in which their servings follow."""
    found = sorted((place for place in members if place in answering), key=lambda place: sorts[place].feeds)
    return (found[0], found[-1]) if found else None


def _most_counted(problem: Problem, clock: Clock) -> int:
    """On how many days of a week a clock can be answered at most, those before day 0 included; 0 without a target."""
    if clock.per_week is None or not any(week.whole for week in weeks(problem)):
        return 0
    earlier = clock.earlier_days
    return max(
        math.ceil((week.last - week.first + 1) / max(1, clock.min_gap)) + (0 if week.first else earlier)
        for week in weeks(problem)
    )


def _overdue(clock: Clock, days: int) -> tuple[float, ...]:
    """The cost of an overdue day where the run of wanted days is long enough for one, else 0."""
    if clock.max_gap is None:
        return (0.0,) * days
    starts = run_starts(clock, days)
    return tuple(
        (clock.overdue or 0.0) if start is not None and day - start + 1 >= clock.max_gap else 0.0
        for day, start in enumerate(starts)
    )


def _others_open(unit: Unit, clock: Clock, feeds: Sequence[str], option: Option, days: int) -> tuple[bool, ...]:
    if option.first < 0:
        return (False,) * days
    others = (unit.feeds[feed].open for feed in clock.feeds if feed != feeds[option.first] and feed in unit.feeds)
    found = set[int]().union(*others)
    return tuple(day in found for day in range(days))
