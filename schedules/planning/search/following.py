"""A plan carried on: what was planned before stays wherever it can, only what has to move is searched.

The earlier plan is walked through the units' automata. That shows which units it suits no longer (a rule is broken, a
need is overdue); these are searched from nothing, where what was posted holds them to the earlier plan. In all units
the last days are searched: they were planned without knowing what follows.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from schedules.planning.problem.calendar import DAYS_A_WEEK, weeks
from schedules.planning.problem.types import Problem, Slot
from schedules.planning.search.arrays import NEVER, Bools, Floats, Ints
from schedules.planning.search.beam import Found, search
from schedules.planning.search.block import Block, Sketch, block_of
from schedules.planning.search.decomposition import Decomposition
from schedules.planning.search.room import Effort, RoomSearch, leaning

_TAIL = 4
"""Days at the end that are searched; a whole week on the day on which the plan reaches the Sunday of its last week, as
from then on that week's targets count."""


@dataclass(slots=True)
class Walk:
    """An earlier plan of a block's units: what it costs without minutes, the states of each morning, what it gives."""

    costs: Floats
    """(U), beyond any cost where the plan breaks a rule."""
    so_far: Floats
    """(D+1 U) what it costs up to each morning."""
    states: Ints
    """(D+1 R)"""
    given: Bools
    """(U D B)"""
    amiss: Bools
    """(U) whether it leaves a need overdue before the last days."""


def carried_on(problem: Problem, previous: Iterable[Slot], effort: Effort) -> RoomSearch:
    """The search of a room that follows an earlier plan; its choice is a whole plan."""
    room = RoomSearch(problem, effort)
    slots: dict[str, list[Slot]] = defaultdict(list)
    for slot in sorted(set(previous)):
        slots[slot.tank].append(slot)
    tail = DAYS_A_WEEK if weeks(problem)[-1].whole else _TAIL
    for block, pool in zip(room.blocks, room.pools, strict=True):
        first = max(0, problem.days - tail)
        walk = walked(problem, block, slots, first)
        moved = np.flatnonzero(walk.amiss | (walk.costs >= NEVER / 2))
        pool.join(_followed(block, walk))
        pool.join(_ends(room, block, walk, first))
        if moved.size:
            pool.join(_from_nothing(room, [block.sketches[place] for place in moved]), moved)
    if room.blocks:
        room.choose(room.even_prices())
    return room


def _followed(block: Block, walk: Walk) -> Found:
    given = walk.given[:, None]
    return Found(walk.costs[:, None], given, block.minutes(given))


def _ends(room: RoomSearch, block: Block, walk: Walk, first: int) -> Found:
    """The earlier plans with other last days, from day `first` on."""
    effort, prices = room.effort, room.even_prices()
    steps, width = effort.searches[0]
    part = Decomposition(block, first, walk.states[first])
    part.price(prices)
    part.tighten(steps)
    found = search(part, prices, leaning(block, 0, len(prices)), width, effort.kept)
    found.given[:, :, :first] = walk.given[:, None, :first]
    costs = np.where(walk.so_far[first][:, None] < NEVER / 2, found.costs + walk.so_far[first][:, None], NEVER)
    return Found(costs, found.given, block.minutes(found.given))


def _from_nothing(room: RoomSearch, sketches: list[Sketch]) -> Found:
    block, prices = block_of(room.problem, sketches, room.rounds), room.even_prices()
    part = Decomposition(block)
    part.price(prices)
    steps, width = room.effort.searches[-1]
    part.tighten(steps)
    return search(part, prices, leaning(block, 0, len(prices)), width, room.effort.kept)


def walked(problem: Problem, block: Block, slots: dict[str, list[Slot]], first: int) -> Walk:
    """Walk an earlier plan through the automata of a block; from day `first` on it is searched anyway."""
    clocks, count, days = block.clocks, len(block.units), problem.days
    sets, asked, given = _as_sets(problem, block, slots)
    numbers = np.pad(clocks.number, ((0, 0), (1, 0)))
    rows, unit = np.arange(len(clocks.start)), np.arange(count)
    states = np.zeros((days + 1, len(rows)), dtype=np.int64)
    states[0] = clocks.start
    costs, amiss = np.zeros((days + 1, count)), np.zeros(count, dtype=np.bool_)
    for day in range(days):
        evening = clocks.evening(day, np.zeros(len(clocks.row)))
        of_options, after = clocks.options(day, evening, states[day])
        inputs = block.inputs[unit, sets[:, day]].reshape(-1, 1)
        of_options = of_options + 2 * NEVER * (numbers != inputs)
        option = np.where(asked[:, day] > 0, asked[:, day], of_options.argmin(axis=1))
        cost = of_options[rows, option].reshape(count, -1)
        costs[day + 1] = costs[day] + block.fixed[unit, day, sets[:, day]] + cost.sum(axis=1)
        late = clocks.overdue[rows, day] * clocks.is_late[states[day]] * (option == 0) > 0
        amiss |= late.reshape(count, -1).any(axis=1) & (day < first)
        states[day + 1] = clocks.next_morning(day, after[rows, option])
    total = np.minimum(costs[-1] + block.constant, NEVER)
    return Walk(total, costs, states, given, amiss)


def _as_sets(problem: Problem, block: Block, slots: dict[str, list[Slot]]) -> tuple[Ints, Ints, Bools]:
    """An earlier plan as sets by day (U D), options asked for by clock (R D, 0 for none), and feeds (U D B).

    What a set cannot hold is left out, so that the plan stays lawful that day.
    """
    count, days = len(block.units), problem.days
    clocks, feeds = block.inputs.shape[2], block.set_feeds.shape[2]
    sets = np.zeros((count, days), dtype=np.int64)
    asked = np.zeros((count * clocks, days), dtype=np.int64)
    given = np.zeros((count, days, feeds), dtype=np.bool_)
    for place, found in enumerate(block.sketches):
        numbers = {members: number for number, members in enumerate(found.sets)}
        sort_of = {feed: number for number, sort in enumerate(found.sorts) for feed in sort.feeds}
        at_day: dict[int, list[str]] = defaultdict(list)
        for slot in slots.get(found.unit.tank, ()):
            if 0 <= slot.day < days and slot.feed in sort_of:
                at_day[slot.day].append(slot.feed)
        names = list(found.unit.feeds)
        for day, fed in at_day.items():
            members: tuple[int, ...] = ()
            for feed in fed:
                grown = tuple(sorted({*members, sort_of[feed]}))
                if len(grown) == len(members) or grown not in numbers or day not in found.unit.feeds[feed].open:
                    continue
                members = grown
                given[place, day, names.index(feed)] = True
                for row, table in enumerate(found.tables):
                    for number, option in enumerate(table.options, 1):
                        if option.feed == feed:
                            asked[place * clocks + row, day] = number
            sets[place, day] = numbers[members]
    return sets, asked, given
