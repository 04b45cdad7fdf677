"""Which sets of a tank's feeds fit one day, and what its rotation groups remember from day to day."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import product
from typing import NamedTuple

from schedules.problem.types import TankProblem
from schedules.room.kinds import ACCOMPANIED, Kind, is_fine
from schedules.rules import FULL_DAY, SHARE_TOLERANCE

State = tuple[tuple[int, int], ...]
"""For each rotation group the number of the feed given last (-1 for one not planned) and its age, capped at the gap."""

_MOST_SETS = 4096


class DaySets(NamedTuple):
    """The sets (feed numbers in the order of their ids, the empty set first) and the states of the groups' memory."""

    sets: list[tuple[int, ...]]
    alone: list[int]
    """By set: how many powders go without a solid feed."""
    states: dict[State, int]
    after: list[list[int]]
    """By state and set: the state that follows."""
    barred: list[list[bool]]
    """By state and set: whether a group's gap forbids it."""
    repeats: list[list[bool]]
    """By state and feed: whether it was the last of its group."""
    complete: bool
    """Whether every set is there; a tank of very many small shares is planned with its smaller sets alone."""


class _Part(NamedTuple):
    """What matters of a feed here."""

    kind: Kind
    group: str | None
    share: float


def day_sets(tank: TankProblem) -> DaySets:
    """The sets of one tank."""
    parts = tuple(_Part(feed.kind, feed.group, feed.share) for _, feed in sorted(tank.feeds.items()))
    return _day_sets(parts, tuple((group, group_gap(tank, group)) for group in _groups(parts)))


def group_gap(tank: TankProblem, group: str) -> int:
    """The days a planned serving of a group keeps from the next: at least 1, as one day takes one feed of a group."""
    return max(tank.groups[group].min_gap, 1)


def first_memory(tank: TankProblem) -> int:
    """The number of the state that day 0 finds.

    A group is taken to have been given last when the later of its own and its feeds' last days says so.
    """
    names = sorted(tank.feeds)
    state = []
    for group in _groups(tuple(_Part(feed.kind, feed.group, feed.share) for _, feed in sorted(tank.feeds.items()))):
        gap, last = group_gap(tank, group), tank.groups[group].last
        days = [day for feed in tank.feeds.values() if feed.group == group and (day := feed.last) is not None]
        days += [last.day] if last is not None else []
        feed_number = names.index(last.feed) if last is not None and last.feed in tank.feeds else -1
        if feed_number >= 0 and tank.feeds[names[feed_number]].group != group:
            feed_number = -1
        state.append((feed_number, min(gap, -max(days)) if days else gap))
    return day_sets(tank).states[tuple(state)]


def _groups(parts: tuple[_Part, ...]) -> list[str]:
    return sorted({part.group for part in parts if part.group is not None})


@lru_cache(maxsize=1024)
def _day_sets(parts: tuple[_Part, ...], gaps: tuple[tuple[str, int], ...]) -> DaySets:
    sets, complete = _fitting(parts)
    groups = [group for group, _ in gaps]
    members = [[f for f, part in enumerate(parts) if part.group == group] for group in groups]
    ways = [
        [(f, age) for f in (*inside, -1) for age in range(1, gap + 1)]
        for inside, (_, gap) in zip(members, gaps, strict=True)
    ]
    states = {state: number for number, state in enumerate(product(*ways))}
    group_of = [groups.index(part.group) if part.group is not None else None for part in parts]
    given = [{g: f for f in chosen if (g := group_of[f]) is not None} for chosen in sets]
    after, barred, repeats = [], [], []
    for state in states:
        older = [(f, min(age + 1, gap)) for (f, age), (_, gap) in zip(state, gaps, strict=True)]
        after.append(
            [states[tuple((new[g], 1) if g in new else past for g, past in enumerate(older))] for new in given]
        )
        barred.append([any(state[g][1] < gaps[g][1] for g in new) for new in given])
        repeats.append([(g := group_of[f]) is not None and state[g][0] == f for f in range(len(parts))])
    alone = [_alone([parts[f].kind for f in chosen]) for chosen in sets]
    return DaySets(sets, alone, states, after, barred, repeats, complete)


def _alone(kinds: list[Kind]) -> int:
    if not all(is_fine(kind) for kind in kinds):
        return 0
    return sum(kind in ACCOMPANIED for kind in kinds)


def _fitting(parts: tuple[_Part, ...]) -> tuple[list[tuple[int, ...]], bool]:
    """The sets whose shares fit a day, no two feeds of one group; only the smaller sets where there are too many."""

    def extended(chosen: tuple[int, ...], share: float, groups: frozenset[str], room: int) -> Iterator[tuple[int, ...]]:
        yield chosen
        for f in range(chosen[-1] + 1 if chosen else 0, len(parts) if room else 0):
            part = parts[f]
            if share + part.share <= FULL_DAY + SHARE_TOLERANCE and part.group not in groups:
                held = groups if part.group is None else groups | {part.group}
                yield from extended((*chosen, f), share + part.share, held, room - 1)

    found: list[tuple[int, ...]] = [()]
    for room in range(1, len(parts) + 1):
        larger = []
        for chosen in extended((), 0.0, frozenset(), room):
            larger.append(chosen)
            if len(larger) > _MOST_SETS:
                return found, False
        if len(larger) == len(found):
            break
        found = larger
    return found, True
