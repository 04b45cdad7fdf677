"""Units: the parts of a tank that nothing but the longest round ties together.

Feeds belong together that answer one clock, share the ration of one table, or keep each other company: a powder and the
feeds that draw the adults away from it. A tank with fan filter feeders has two units, as their table is a world of its
own. A feed that is never open is in no unit; what its clocks cost is then the same whatever is given.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import get_args

from schedules.planning.problem.types import Clock, PlanFeed, Problem, Slot, Table, TankProblem
from schedules.planning.problem.weights import FULL_DAY, TOLERANCE
from schedules.room.kinds import ACCOMPANIED


@dataclass(frozen=True, slots=True)
class Unit:
    """A part of a tank that can be planned by itself: its feeds and clocks in order, and what was posted of them."""

    tank: str
    adults: frozenset[int]
    feeds: dict[str, PlanFeed]
    clocks: dict[str, Clock]
    posted: frozenset[Slot]

    def alone(self, problem: Problem) -> Problem:
        """The problem of this unit alone."""
        tank = TankProblem(tuple(sorted(self.adults)), self.clocks, self.feeds)
        return replace(problem, tanks={self.tank: tank}, posted=tuple(sorted(self.posted)))


def units_of(problem: Problem) -> list[Unit]:
    """The units of a room, in the order of tanks and feeds by id."""
    posted: dict[str, set[Slot]] = {name: set() for name in problem.tanks}
    for slot in problem.posted:
        if slot.tank in posted and slot.day < problem.posted_days:
            posted[slot.tank].add(slot)
    return [unit for name in sorted(problem.tanks) for unit in _units(name, problem.tanks[name], posted[name])]


def left_out(problem: Problem) -> Problem:
    """What no plan can change: clocks that no open feed answers, and posted servings of feeds that are never open."""
    open_feeds = {(name, feed) for name, tank in problem.tanks.items() for feed, it in tank.feeds.items() if it.open}
    tanks = {
        name: TankProblem(
            (),
            {
                key: clock
                for key, clock in tank.clocks.items()
                if not any((name, feed) in open_feeds for feed in clock.feeds)
            },
            {},
        )
        for name, tank in problem.tanks.items()
    }
    posted = tuple(slot for slot in problem.posted if (slot.tank, slot.feed) not in open_feeds)
    return replace(problem, tanks=tanks, posted=posted)


def _units(name: str, tank: TankProblem, posted: set[Slot]) -> Iterator[Unit]:
    feeds = {feed: tank.feeds[feed] for feed in sorted(tank.feeds) if tank.feeds[feed].open}
    clocks = {key: tank.clocks[key] for key in sorted(tank.clocks)}
    for members in _components(tank, feeds):
        inside = {key: clock for key, clock in clocks.items() if members & set(clock.feeds)}
        yield Unit(
            name,
            frozenset(tank.adults),
            {feed: it for feed, it in feeds.items() if feed in members},
            inside,
            frozenset(slot for slot in posted if slot.feed in members),
        )


def _components(tank: TankProblem, feeds: dict[str, PlanFeed]) -> list[set[str]]:
    """Sets of feeds that have to be planned together, by the first of their ids."""
    ties = [set(clock.feeds) & set(feeds) for clock in tank.clocks.values()]
    if tank.adults:
        fine = {feed for feed, it in feeds.items() if it.kind in ACCOMPANIED}
        ties += [fine | {feed for feed, it in feeds.items() if it.draws}] if fine else []
    found = _joined([{feed} for feed in feeds], ties)
    for table in get_args(Table):
        at_table = {feed: it.share for feed, it in feeds.items() if it.table == table and it.share > 0}
        found = _joined(found, [_in_each_others_way(tank, found, at_table)])
    return sorted(found, key=min)


def _joined(parts: list[set[str]], ties: list[set[str]]) -> list[set[str]]:
    for tie in ties:
        apart = [members for members in parts if not members & tie]
        joined = set[str]().union(*(members for members in parts if members & tie))
        parts = [*apart, joined] if joined else apart
    return parts


def _in_each_others_way(tank: TankProblem, parts: list[set[str]], shares: dict[str, float]) -> set[str]:
    """The feeds of a table whose shares can be too much beside those of other parts; the rest fit any lawful day."""
    sums = [_sums(tank, {feed: share for feed, share in shares.items() if feed in members}) for members in parts]
    found: set[str] = set()
    for number, members in enumerate(parts):
        beside = {0.0}
        for other, its in enumerate(sums):
            if other != number:
                beside = {
                    total for first in beside for one in its if (total := round(first + one, _DIGITS)) <= FULL_DAY
                }
        if len(sums[number]) > 1 and max(beside) + max(sums[number]) > FULL_DAY + TOLERANCE:
            found |= members & set(shares)
    return found


def _sums(tank: TankProblem, shares: dict[str, float]) -> set[float]:
    """What the shares of some feeds can add up to on one day, at most one feed of each clock that has a gap."""
    groups: dict[str, set[float]] = {}
    for feed, share in shares.items():
        clocks = (key for key, clock in tank.clocks.items() if clock.min_gap >= 1 and feed in clock.feeds)
        groups.setdefault(next(clocks, f"\0{feed}"), set()).add(share)
    found = {0.0}
    for group in groups.values():
        found |= {total for first in found for one in group if (total := round(first + one, _DIGITS)) <= FULL_DAY}
    return found


_DIGITS = 9  # of a sum of shares: what is nearer is the same
