"""Invented problems for the planner's tests: single ones by hand, and random ones with odd pasts."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import product
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from schedules import checker
from schedules.plan.cost import cost
from schedules.plan.types import Plan
from schedules.problem.json import plan_to_json
from schedules.problem.types import GroupTask, LastOfGroup, Problem, Slot, TankFeed, TankProblem
from schedules.room.kinds import KINDS, Kind, is_fine

MONDAY = date(2026, 11, 23)
WEDNESDAY = date(2026, 11, 25)


def a_feed(days: int = 7, **changes: Any) -> TankFeed:
    """A staple by itself, wanted and open on every day, never given, new on day 0."""
    everyday = tuple(range(days))
    usual = TankFeed(
        kind="staple",
        group=None,
        round="morning",
        min_gap=1,
        max_gap=30,
        per_week=0,
        share=0.5,
        minutes=1.0,
        wanted=everyday,
        wanted_since=0,
        open=everyday,
        last=None,
        given_this_week=0,
        wanted_this_week=0,
    )
    return replace(usual, **changes)


def a_problem(
    feeds: dict[str, TankFeed],
    days: int = 7,
    start: date = MONDAY,
    adults: tuple[int, ...] = (),
    groups: dict[str, GroupTask] | None = None,
    posted: tuple[Slot, ...] = (),
) -> Problem:
    """A room of one tank, `a1`."""
    return Problem(start, days, {"a1": TankProblem(adults, groups or {}, feeds)}, posted)


def slots(*given: tuple[int, str]) -> tuple[Slot, ...]:
    """Servings of tank `a1`: (day, feed)."""
    return tuple(sorted(Slot(day, "a1", feed) for day, feed in given))


def document(problem: Problem, given: tuple[Slot, ...]) -> dict[str, Any]:
    """A plan's JSON as another program would read it."""
    made = Plan(given, cost(problem, given), None)
    read: dict[str, Any] = json.loads(json.dumps(plan_to_json(problem, made)))
    return read


def pinwheel(periods: tuple[int, ...], days: int = 90) -> Problem:
    """A tank that takes one serving a day, and feeds that each want one in every `period` days."""
    return a_problem(
        {
            f"feed{number}": a_feed(days, max_gap=period, per_week=7 / period, share=1.0)
            for number, period in enumerate(periods)
        },
        days,
    )


@st.composite
def problems(draw: st.DrawFn, most_tanks: int = 2, most_feeds: int = 5, most_days: int = 90) -> Problem:
    """Problems with odd pasts: doubled weeks, long absences, feeds never given, closed for good, gone or new."""
    days = draw(st.integers(1, most_days))
    start = MONDAY + timedelta(days=draw(st.integers(0, 6)))
    tanks = {f"t{n}": draw(_tank(days, start, most_feeds)) for n in range(draw(st.integers(1, most_tanks)))}
    posted = draw(
        st.lists(
            st.sampled_from([(tank, feed) for tank in tanks for feed in tanks[tank].feeds] or [("gone", "gone")]),
            max_size=6,
        )
    )
    listed = {Slot(draw(st.integers(0, 6)), tank, feed) for tank, feed in posted}
    return Problem(start, days, tanks, tuple(sorted(listed)))


@st.composite
def _tank(draw: st.DrawFn, days: int, start: date, most_feeds: int) -> TankProblem:
    groups = {name: draw(st.integers(0, 4)) for name in draw(st.sets(st.sampled_from(("staples", "others"))))}
    feeds = {f"f{n}": draw(_a_random_feed(days, start, tuple(groups))) for n in range(draw(st.integers(0, most_feeds)))}
    tasks = {}
    for name, gap in groups.items():
        lasts = [(feed.last, feed_id) for feed_id, feed in feeds.items() if feed.group == name and feed.last]
        gone = draw(st.none() | st.integers(-20, -1).map(lambda day: (day, "gone")))
        last = max([*lasts, *([gone] if gone else [])], default=None)
        tasks[name] = GroupTask(gap, LastOfGroup(*last) if last else None)
    adults = tuple(range(days)) if draw(st.booleans()) else tuple(range(0, days, 3))
    return TankProblem(adults, tasks, feeds)


@st.composite
def _a_random_feed(draw: st.DrawFn, days: int, start: date, groups: tuple[str, ...]) -> TankFeed:
    kind: Kind = draw(st.sampled_from(KINDS))
    first, end = sorted((draw(st.integers(0, days)), draw(st.integers(0, days))))
    hole = draw(st.integers(0, days))
    wanted = tuple(day for day in range(days) if (first <= day < end or draw(st.booleans())) and day != hole)
    rest = draw(st.sampled_from((None, 0, 3, 6)))
    weekday = start.weekday()
    opened = tuple(day for day in wanted if is_fine(kind) or (weekday + day) % 7 != rest)
    return TankFeed(
        kind=kind,
        group=draw(st.sampled_from((None, *groups))),
        round=draw(st.sampled_from(("morning", "evening"))),
        min_gap=draw(st.integers(0, 6)),
        max_gap=draw(st.integers(1, 12)),
        per_week=draw(st.sampled_from((0, 0.5, 1, 1.5, 3, 7, 9.5))),
        share=draw(st.sampled_from((0.1, 0.2, 0.3, 0.5, 0.6, 0.7, 1, 1.2))),
        minutes=draw(st.sampled_from((0, 0.3, 0.5, 2.25))),
        wanted=wanted,
        wanted_since=draw(st.integers(-400, 0)) if 0 in wanted else None,
        open=opened if draw(st.integers(0, 5)) else (),
        last=draw(st.none() | st.integers(-12, -1) | st.just(-700)),
        given_this_week=draw(st.integers(0, 9)) if weekday else 0,
        wanted_this_week=draw(st.integers(0, weekday)),
    )


def every_lawful_plan(problem: Problem, most: int = 10) -> Iterator[tuple[Slot, ...]]:
    """Every plan that keeps the hard rules, by trying each; problems with more places for servings are left out."""
    places = [
        Slot(day, name, feed_id)
        for name, tank in problem.tanks.items()
        for feed_id, feed in tank.feeds.items()
        for day in feed.open
    ]
    assume(len(places) <= most)
    for taken in product((False, True), repeat=len(places)):
        chosen = tuple(sorted(slot for slot, take in zip(places, taken, strict=True) if take))
        if checker.check(document(problem, chosen)) == []:
            yield chosen
