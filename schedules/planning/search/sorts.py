"""Sorts: feeds of a unit that are alike in everything but their names, minutes and last servings.

A day is planned by sorts ("a staple"); which of its feeds is given, the clock in which they take turns decides. That
keeps the sets of a day few however many products a keeper has. Feeds are put together only where this leaves out no
lawful plan: the clock's gap and the turns must keep every feed's own gap.
"""

from __future__ import annotations

from dataclasses import dataclass

from schedules.planning.problem.types import Clock, LastAnswer, PlanFeed
from schedules.planning.search.units import Unit


@dataclass(frozen=True, slots=True)
class Sort:
    """Feeds planned as one, in order of id, and the clock in which they take turns (None for a feed by itself)."""

    feeds: tuple[str, ...]
    turns: str | None


def sorts_of(unit: Unit) -> list[Sort]:
    """The sorts of a unit, each feed in one of them."""
    alike: dict[object, list[str]] = {}
    for name, feed in unit.feeds.items():
        alike.setdefault(_traits(unit, name, feed), []).append(name)
    found: list[Sort] = []
    for feeds in alike.values():
        clock = _clock_of_turns(unit, feeds) if len(feeds) > 1 else None
        found += [Sort((feed,), None) for feed in feeds] if clock is None else [Sort(tuple(feeds), clock)]
    return sorted(found, key=lambda sort: sort.feeds)


def with_own_gaps(unit: Unit, sorts: list[Sort]) -> dict[str, Clock]:
    """The unit's clocks, and one more for each feed whose own gap none of them keeps.

    An own clock costs nothing, it only spaces its feed. Its name cannot be that of another clock.
    """
    clocks = dict(unit.clocks)
    for sort in sorts:
        if sort.turns is None and (name := sort.feeds[0]) and not _gap_is_kept(unit, name):
            feed = unit.feeds[name]
            last = None if feed.last is None else LastAnswer(feed.last, name)
            clocks[f"\0{name}"] = Clock((name,), feed.min_gap, None, None, None, False, (), last=last)
    return clocks


def _traits(unit: Unit, name: str, feed: PlanFeed) -> object:
    clocks = tuple(key for key, clock in unit.clocks.items() if name in clock.feeds)
    return clocks, feed.kind, feed.table, feed.round, feed.draws, feed.share, feed.open


def _clock_of_turns(unit: Unit, feeds: list[str]) -> str | None:
    """The one clock in which these feeds take turns, None where they have to be planned one by one."""
    turning = [key for key, clock in unit.clocks.items() if clock.rotate and feeds[0] in clock.feeds]
    if len(turning) != 1 or unit.clocks[turning[0]].min_gap < 1:
        return None
    clock = unit.clocks[turning[0]]
    return turning[0] if all(_turns_keep_gap(clock, name, unit.feeds[name]) for name in feeds) else None


def _turns_keep_gap(clock: Clock, name: str, feed: PlanFeed) -> bool:
    """Whether a feed that is not given twice running keeps its own gap, from its last serving on.

    Between two servings of it lies another of its clock, so they are two of the clock's gaps apart. That it is given
    twice running sooner than its own gap allows, the clock's table rules out.
    """
    if feed.min_gap > 2 * clock.min_gap:
        return False
    if feed.last is None:
        return clock.last is None or clock.last.feed != name
    if clock.last is None or clock.last.day < feed.last:
        return False
    if clock.last.feed == name:
        return clock.last.day == feed.last
    return max(0, clock.last.day + clock.min_gap) - feed.last >= feed.min_gap


def _gap_is_kept(unit: Unit, name: str) -> bool:
    """Whether some clock keeps a feed's own gap."""
    feed = unit.feeds[name]
    if feed.min_gap <= 1 and (feed.last is None or -feed.last >= feed.min_gap):
        return True
    return any(
        name in clock.feeds
        and clock.min_gap >= feed.min_gap
        and (feed.last is None or (clock.last is not None and clock.last.day >= feed.last))
        for clock in unit.clocks.values()
    )
