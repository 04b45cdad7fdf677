"""Invented rooms for the planner's benchmark: seeded, of any size, with ordinary or tight rules."""

from __future__ import annotations

import random
from datetime import date, timedelta

from schedules.problem.types import GroupTask, LastOfGroup, Problem, Slot, TankFeed, TankProblem
from schedules.room.kinds import KIND_DEFAULTS, Kind, is_fine

MONDAY = date(2026, 11, 23)
_STOCK: tuple[tuple[str, Kind], ...] = (
    ("film", "biofilm"),
    ("fines", "powder"),
    ("drift", "suspension"),
    ("chalk", "mineral"),
    ("pellet", "staple"),
    ("wafer", "staple"),
    ("insect", "protein"),
    ("nettle", "greens"),
)


def invented_room(tanks: int, seed: int, tight: bool, days: int = 28, start: date = MONDAY) -> Problem:
    """A room of `tanks` tanks with up to eight feeds each.

    Tight rooms ask for more of each feed in shorter gaps, rest one day a week in every tank and leave the rounds of
    one weekday out.
    """
    rng = random.Random(f"{tanks} {seed} {tight}")
    off = rng.randrange(7) if tight else None
    return Problem(start, days, {f"t{n:04}": _tank(rng, tight, days, start, off) for n in range(tanks)}, ())


def _tank(rng: random.Random, tight: bool, days: int, start: date, off: int | None) -> TankProblem:
    rest = rng.randrange(7) if tight or rng.random() < 0.4 else None
    stock = [item for item in _STOCK if rng.random() < (0.8 if tight else 0.75)] or [_STOCK[1]]
    feeds = {name: _feed(rng, kind, tight, days, start, rest, off) for name, kind in stock}
    staples = [(feed.last, name) for name, feed in feeds.items() if feed.group and feed.last is not None]
    groups = {}
    if any(feed.group for feed in feeds.values()):
        last = max(staples, default=None)
        groups["staples"] = GroupTask(2, LastOfGroup(*last) if last else None)
    adults = tuple(range(days)) if rng.random() < 0.7 else ()
    return TankProblem(adults, groups, feeds)


def _feed(
    rng: random.Random, kind: Kind, tight: bool, days: int, start: date, rest: int | None, off: int | None
) -> TankFeed:
    usual = KIND_DEFAULTS[kind]
    first, end = 0, days
    if rng.random() < 0.15:
        first = rng.randrange(days)
    elif rng.random() < 0.1:
        end = rng.randrange(1, days + 1)
    weekday = [(start + timedelta(days=day)).weekday() for day in range(days)]
    wanted = tuple(range(first, end))
    closed = {rest if not is_fine(kind) else None, None if usual.even_on_days_off else off}
    max_gap = max(usual.min_gap + 1, usual.max_gap - (rng.randrange(2) if tight else -rng.randrange(2)))
    # A past that keeps the rules: new to the tank, or given within the longest gap.
    new = rng.random() < 0.1
    since = -rng.randint(0, 1) if new else -rng.randint(max_gap, 40)
    last = None if first > 0 or new else -rng.randint(1, max_gap - 1)
    return TankFeed(
        kind=kind,
        group=usual.group,
        round="morning",
        min_gap=usual.min_gap,
        max_gap=max_gap,
        per_week=usual.per_week + rng.choice((0, 0, 0.5) if tight else (-0.5, 0, 0, 0.5)),
        share=usual.share,
        minutes=round(usual.minutes * rng.uniform(0.7, 1.4), 2),
        wanted=wanted,
        wanted_since=since if first == 0 else None,
        open=tuple(day for day in wanted if weekday[day] not in closed),
        last=last,
        given_this_week=0,
        wanted_this_week=0,
    )


def next_day(problem: Problem, slots: tuple[Slot, ...]) -> Problem:
    """The same room a day later: day 0 was given as planned, and the plan was posted."""
    return Problem(
        problem.start + timedelta(days=1),
        problem.days,
        {name: _tank_next_day(problem, name, tank, slots) for name, tank in problem.tanks.items()},
        tuple(Slot(slot.day - 1, slot.tank, slot.feed) for slot in slots if 1 <= slot.day <= 7),
    )


def _tank_next_day(problem: Problem, name: str, tank: TankProblem, slots: tuple[Slot, ...]) -> TankProblem:
    given = {slot.feed for slot in slots if slot.tank == name and slot.day == 0}
    monday = (problem.start + timedelta(days=1)).weekday() == 0
    feeds = {}
    for feed_id, feed in tank.feeds.items():
        wanted = _shifted(feed.wanted, problem.days)
        since = None
        if wanted and wanted[0] == 0:
            since = (feed.wanted_since if feed.wanted_since is not None and 0 in feed.wanted else 1) - 1
        feeds[feed_id] = TankFeed(
            kind=feed.kind,
            group=feed.group,
            round=feed.round,
            min_gap=feed.min_gap,
            max_gap=feed.max_gap,
            per_week=feed.per_week,
            share=feed.share,
            minutes=feed.minutes,
            wanted=wanted,
            wanted_since=since,
            open=tuple(day for day in _shifted(feed.open, problem.days, week=True) if day in set(wanted)),
            last=-1 if feed_id in given else None if feed.last is None else feed.last - 1,
            given_this_week=0 if monday else feed.given_this_week + (feed_id in given),
            wanted_this_week=0 if monday else feed.wanted_this_week + (0 in feed.wanted),
        )
    groups = {}
    for group, task in tank.groups.items():
        fresh = [feed_id for feed_id in given if tank.feeds[feed_id].group == group]
        last = LastOfGroup(-1, fresh[0]) if fresh else task.last and LastOfGroup(task.last.day - 1, task.last.feed)
        groups[group] = GroupTask(task.min_gap, last)
    adults = _shifted(tank.adults, problem.days)
    return TankProblem(adults, groups, feeds)


def _shifted(days: tuple[int, ...], horizon: int, week: bool = False) -> tuple[int, ...]:
    """Day numbers seen a day later; the new last day is as the day before it, or as the day a week before it."""
    found = [day - 1 for day in days if day > 0]
    model = horizon - 8 if week else horizon - 2
    if model in found:
        found.append(horizon - 1)
    return tuple(found)
