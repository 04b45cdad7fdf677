"""A problem some days later: what is left of it once the servings of its first days were given."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import timedelta

from schedules.problem.calendar import clock_starts
from schedules.problem.types import GroupTask, LastOfGroup, Problem, Slot, TankFeed, TankProblem

Given = Mapping[str, list[int]]
"""For each feed of one tank the days on which it was given, ascending."""


def later(problem: Problem, slots: Iterable[Slot], days: int) -> Problem:
    """The problem of the days from `days` on, all slots before that day taken as given; nothing is posted for it."""
    given: dict[str, dict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
    for slot in sorted(slots):
        if slot.day < days:
            given[slot.tank][slot.feed].append(slot.day)
    return Problem(
        problem.start + timedelta(days=days),
        problem.days - days,
        {name: _tank(problem, tank, given[name], days) for name, tank in problem.tanks.items()},
        (),
    )


def _tank(problem: Problem, tank: TankProblem, given: Given, days: int) -> TankProblem:
    groups = {name: _group(name, group, tank, given, days) for name, group in tank.groups.items()}
    feeds = {name: _feed(problem, feed, given.get(name, []), days) for name, feed in tank.feeds.items()}
    return TankProblem(_shifted(tank.adults, days), groups, feeds)


def _feed(problem: Problem, feed: TankFeed, given: list[int], days: int) -> TankFeed:
    wanted = _shifted(feed.wanted, days)
    start = clock_starts(feed, problem.days)[days] if wanted and wanted[0] == 0 else None
    last = given[-1] if given else feed.last
    monday = days - (problem.start.weekday() + days) % 7
    before = (feed.given_this_week, feed.wanted_this_week) if monday <= 0 else (0, 0)
    return replace(
        feed,
        wanted=wanted,
        wanted_since=None if start is None else start + 1 - days,
        open=_shifted(feed.open, days),
        last=None if last is None else last - days,
        given_this_week=before[0] + sum(day >= monday for day in given),
        wanted_this_week=before[1] + sum(monday <= day < days for day in feed.wanted),
    )


def _group(name: str, group: GroupTask, tank: TankProblem, given: Given, days: int) -> GroupTask:
    served = [(served[-1], feed) for feed, served in given.items() if served and tank.feeds[feed].group == name]
    if served:
        day, feed = max(served)
        return GroupTask(group.min_gap, LastOfGroup(day - days, feed))
    if group.last is None:
        return group
    return GroupTask(group.min_gap, LastOfGroup(group.last.day - days, group.last.feed))


def _shifted(numbers: tuple[int, ...], days: int) -> tuple[int, ...]:
    return tuple(day - days for day in numbers if day >= days)
