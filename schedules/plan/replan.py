"""Planning again from a plan that is known: a day later, or for one tank after a mark."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass, replace
from itertools import pairwise
from operator import itemgetter

import numpy as np

from schedules.plan.beam import search
from schedules.plan.block import Block
from schedules.plan.cost import overdue_by_tank
from schedules.plan.grid import NEVER, UNIT, Floats, Grid, Ints, make_grid
from schedules.plan.keep import lawful
from schedules.plan.levels import GRAIN
from schedules.plan.polish import polish
from schedules.plan.search import SMALL, Effort, RoomSearch
from schedules.plan.split import Split
from schedules.problem.calendar import given_before, week_target, weeks
from schedules.problem.later import later
from schedules.problem.types import Problem, Slot
from schedules.rules import WEIGHTS


@dataclass(frozen=True, slots=True)
class _End:
    """How many of the last days are planned anew, and how: those were planned without knowing what follows."""

    days: int
    effort: Effort
    searches: int
    """Of parts of a small room's plan, at the end."""


_TAIL = _End(5, Effort(12, (24, 12), 24, (), 0, 60, 12, 64, spare_width=0), 60)
_WEEK = _End(7, Effort(16, (40, 10, 10), 24, (64,), 15, 150, 12, 64, spare_width=256), 160)
"""From the day on which the plan reaches the Sunday of its last week the target of that week counts."""
_AFFECTED = Effort(16, (30,), 48, (), 0, 60, 8, 32, spare_width=256)
_AFFECTED_AT_ONCE = Effort(12, (10,), 16, (), 0, 60, 8, 32, spare_width=0)
_UNSEARCHED = Effort(0, (), 0, (), 0, 60, 8, 64)
_ONE_WIDTH = 32
_ONE_STEPS = 8
_MINUTE = WEIGHTS.longest_round * UNIT / GRAIN
_FED = itemgetter(1, 2)  # the tank and the feed of a slot
_DIGITS = 48  # binary ones for the grains of a round
_EVEN = 0.02  # a minute's price in rounds that are not the longest, as a part of the weight: shorter ones are preferred


def carried_on(problem: Problem, previous: list[Slot]) -> list[Slot]:
    """A plan that follows the previous one wherever that is as good as planning anew.

    The last days are planned anew in every tank, all days only in tanks where life interfered.
    """
    kept = lawful(problem, previous)
    end = _WEEK if weeks(problem.start.weekday(), problem.days)[-1].whole else _TAIL
    cut = max(0, problem.days - end.days)
    head = [slot for slot in kept if slot.day < cut]
    tail = RoomSearch(later(problem, head, cut), end.effort)
    tail.run()
    followed = head + [Slot(slot.day + cut, slot.tank, slot.feed) for slot in tail.slots()]
    room = RoomSearch(problem, _UNSEARCHED)
    room.take_in(kept)
    room.take_in(followed)
    # Every tank brings all the ways on that were found: which of them level the rounds shows beside the others only.
    known = {tank: plans[:cut, 0] for tank, plans in room.plans().items() if plans.size}
    ends = tail.plans()
    room.take_in_plans({tank: _with_head(head, ends[tank]) for tank, head in known.items()})
    affected = _affected(problem, previous, kept, followed)
    # Of very many small shares a posted day may hold more than the search looks at (see `day_sets`).
    affected += [tank for block in room.blocks for tank in block.grid.tanks if tank not in {*known, *affected}]
    if affected:
        room.take_in_plans(_anew(problem, affected, followed, _AFFECTED).plans())
    room.choose(room.even_price())
    if len(problem.tanks) <= SMALL:
        polish(room, end.searches)
    return room.slots()


def _with_head(head: Ints, tails: Ints) -> Ints:
    """Plans of a tank (D K) that begin alike (sets by day) and end differently (days left, K)."""
    return np.concatenate((np.repeat(head[:, None], tails.shape[1], axis=1), tails))


def carried_on_at_once(problem: Problem, previous: list[Slot]) -> list[Slot]:
    """The same in a part of the time: good enough for the first day, not for the last ones."""
    kept = lawful(problem, previous)
    affected = set(_affected(problem, previous, kept, kept))
    others = [slot for slot in kept if slot.tank not in affected]
    return sorted([*others, *_anew(problem, affected, kept, _AFFECTED_AT_ONCE).slots()])


def _affected(problem: Problem, previous: list[Slot], kept: list[Slot], followed: list[Slot]) -> list[str]:
    """Tanks whose earlier plan broke a rule, leaves days overdue, or falls far behind the target of the week."""
    found = {slot.tank for slot in set(previous) - set(kept)} | set(overdue_by_tank(problem, followed))
    if problem.start.weekday():
        week = weeks(problem.start.weekday(), problem.days)[0]
        given = Counter((slot.tank, slot.feed) for slot in followed if slot.day <= week.last)
        for name, tank in problem.tanks.items():
            for feed_id, feed in tank.feeds.items():
                count = given[name, feed_id] + given_before(feed, week)
                if week.whole and week_target(feed, week) - count > 1:
                    found.add(name)
    return [name for name in problem.tanks if name in found and problem.tanks[name].feeds]


def _anew(problem: Problem, tanks: Collection[str], followed: list[Slot], effort: Effort) -> RoomSearch:
    """Some tanks searched again, knowing the plan that is followed."""
    searched = {name: tank for name, tank in problem.tanks.items() if name in tanks}
    part = Problem(problem.start, problem.days, searched, problem.posted)
    room = RoomSearch(part, effort)
    room.take_in([slot for slot in followed if slot.tank in part.tanks])
    room.run()
    return room


def tank_anew(problem: Problem, slots: list[Slot], tank: str) -> list[Slot]:
    """The servings of all tanks, those of one planned anew beside the rounds of the others."""
    others = sorted(slots)
    own: list[Slot] = []
    for day in range(problem.days - 1, -1, -1):
        mine = slice(bisect_left(others, (day, tank)), bisect_left(others, (day, tank + "\0")))
        own += others[mine]
        del others[mine]
    if not problem.tanks[tank].feeds:
        return others
    rounds = sorted({feed.round for feed in problem.tanks[tank].feeds.values()})
    beside, longest = _others_rounds(problem, others, rounds)
    grid = make_grid(problem, [tank], rounds)
    block = Block(grid, len(rounds))
    block.take_in_slots(lawful(problem, own))
    row = np.array([0])
    split = Split(_beside(grid, beside, longest, block.set_minutes[0]), _round_prices(beside, longest))
    split.tighten(block.pool.costs[:, 0], _ONE_STEPS)
    found = search(split, _ONE_WIDTH)
    block.take_in(row, found.sets, found.costs >= NEVER / 2)
    lengths = np.maximum(block.pool.minutes[0] + beside.ravel(), longest).max(axis=1)
    best = (block.pool.costs[0] + _MINUTE * lengths).argmin()
    for slot in block.slots(row + best):
        insort(others, slot)
    return others


def _others_rounds(problem: Problem, others: list[Slot], rounds: list[str]) -> tuple[Floats, float]:
    """The minutes (in grains) of one tank's rounds (D R) without it, and the longest of all rounds without it.

    This is all that grows with the room when one tank is planned anew, so each slot is only looked up and added: the
    grains of the rounds stand side by side in the digits of one number.
    """
    place: dict[str, int] = {name: number for number, name in enumerate(rounds)}
    handling = {
        (name, feed_id): round(feed.minutes * GRAIN) << _DIGITS * place.setdefault(feed.round, len(place))
        for name, tank in problem.tanks.items()
        for feed_id, feed in tank.feeds.items()
    }
    starts = [bisect_left(others, (day,)) for day in range(problem.days + 1)]
    sums = [sum(map(handling.__getitem__, map(_FED, others[first:end]))) for first, end in pairwise(starts)]
    minutes = [[number >> _DIGITS * at & (1 << _DIGITS) - 1 for at in range(len(place))] for number in sums]
    longest = max((max(day) for day in minutes), default=0)
    return np.array([day[: len(rounds)] for day in minutes], dtype=np.float64), float(longest)


def _round_prices(minutes: Floats, longest: float) -> Floats:
    """Prices of minutes that prefer the shorter rounds a little."""
    part = minutes / longest if longest else minutes
    found: Floats = _EVEN * WEIGHTS.longest_round / len(minutes) * (1 + part)
    return found


def _beside(grid: Grid, minutes: Floats, longest: float, own: Floats) -> Grid:
    """The grid of one tank where a set also costs what it adds to the longest round; `own` are its minutes (S R)."""
    over = np.maximum(minutes[:, None, :] + own[None, :, :] - longest, 0.0).sum(axis=2)
    return replace(grid, set_cost=grid.set_cost + np.floor(_MINUTE * over))
