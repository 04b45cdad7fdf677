"""Planning problems for tests: single ones by hand, random ones with odd pasts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta
from itertools import product
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from schedules.planning.problem.types import Clock, LastAnswer, PlanFeed, Problem, Slot, TankProblem
from schedules.room.kinds import KINDS

MONDAY = date(2026, 11, 23)


def a_feed(days: int = 7, **changes: Any) -> PlanFeed:
    """A staple, open on every day, never given, that draws."""
    usual = PlanFeed("staple", "ground", "morning", True, 1, 0.5, 1.0, 1.0, tuple(range(days)))
    return replace(usual, **changes)


def a_clock(*feeds: str, days: int = 7, **changes: Any) -> Clock:
    """A clock that only spaces its feeds, wanted on every day and first on day 0."""
    return replace(Clock(feeds, 0, None, None, None, False, tuple(range(days)), 0), **changes)


def a_problem(
    feeds: Mapping[str, PlanFeed],
    clocks: Mapping[str, Clock] | None = None,
    days: int = 7,
    start: date = MONDAY,
    adults: tuple[int, ...] = (),
    posted: tuple[Slot, ...] = (),
    posted_days: int = 0,
) -> Problem:
    """A room of one tank, `a1`."""
    return Problem(start, days, {"a1": TankProblem(adults, clocks or {}, feeds)}, posted, posted_days)


def slots(*given: tuple[int, str]) -> tuple[Slot, ...]:
    """Servings of tank `a1`: (day, feed)."""
    return tuple(sorted(Slot(day, "a1", feed) for day, feed in given))


@st.composite
def problems(draw: st.DrawFn, most_tanks: int = 2, most_feeds: int = 4, most_days: int = 16) -> Problem:
    """Problems with odd pasts: feeds never given or gone, needs that come and go, posted days that break rules."""
    days = draw(st.integers(1, most_days))
    start = MONDAY + timedelta(days=draw(st.integers(0, 6)))
    names = [f"t{number}" for number in range(draw(st.integers(1, most_tanks)))]
    tanks = {name: draw(_tanks(days, start.weekday(), most_feeds)) for name in names}
    posted_days = draw(st.sampled_from((0, min(3, days), days, days - 1)))
    places = [Slot(day, name, feed) for name in names for feed in (*tanks[name].feeds, "gone") for day in range(days)]
    posted = draw(st.sets(st.sampled_from(places), max_size=8)) if posted_days else set()
    return Problem(start, days, tanks, tuple(sorted(posted)), posted_days)


def _days(draw: st.DrawFn, days: int) -> tuple[int, ...]:
    """Days on end, all, or here and there."""
    first, end = sorted((draw(st.integers(0, days)), draw(st.integers(0, days))))
    some = draw(st.sets(st.integers(0, days - 1)))
    return draw(st.sampled_from((tuple(range(days)), tuple(range(first, end)), tuple(sorted(some)))))


@st.composite
def _tanks(draw: st.DrawFn, days: int, weekday: int, most_feeds: int) -> TankProblem:
    feeds = {f"f{number}": draw(_feeds(days)) for number in range(draw(st.integers(1, most_feeds)))}
    clocks = {f"c{number}": draw(_clocks(days, weekday, feeds)) for number in range(draw(st.integers(0, 4)))}
    return TankProblem(_days(draw, days), clocks, feeds)


@st.composite
def _feeds(draw: st.DrawFn, days: int) -> PlanFeed:
    kind = draw(st.sampled_from(KINDS))
    share = draw(st.sampled_from((0.0, 0.1, 0.2, 0.3, 0.5, 0.7, 1.0)))
    return PlanFeed(
        kind=kind,
        table=draw(st.sampled_from(("fine", "ground", "fan"))),
        round=draw(st.sampled_from(("morning", "evening"))),
        draws=draw(st.booleans()),
        min_gap=draw(st.integers(0, 4)),
        share=share,
        most=draw(st.sampled_from([most for most in (0.0, 0.3, 0.6, 1.0) if most >= share])),
        minutes=draw(st.sampled_from((0.0, 0.3, 0.5, 2.25))),
        open=_days(draw, days),
        last=draw(st.none() | st.integers(-12, -1)),
    )


@st.composite
def _clocks(draw: st.DrawFn, days: int, weekday: int, feeds: Mapping[str, PlanFeed]) -> Clock:
    members = tuple(sorted(draw(st.sets(st.sampled_from(sorted(feeds)), min_size=1))))
    answers = [LastAnswer(last, name) for name in members if (last := feeds[name].last) is not None]
    if draw(st.booleans()):
        answers.append(LastAnswer(draw(st.integers(-9, -1)), "gone"))
    max_gap = draw(st.none() | st.integers(1, 6))
    wanted = _days(draw, days)
    earlier_wanted = draw(st.integers(0, weekday))
    return Clock(
        feeds=members,
        min_gap=draw(st.integers(0, 3)),
        max_gap=max_gap,
        per_week=draw(st.sampled_from((None, 0, 0.5, 1.5, 3, 7))),
        overdue=None if max_gap is None else draw(st.sampled_from((50, 300))),
        rotate=draw(st.booleans()),
        wanted=wanted,
        wanted_since=draw(st.integers(-12, 0)) if 0 in wanted else None,
        last=max(answers, default=None),
        earlier_days=draw(st.integers(0, earlier_wanted)),
        earlier_wanted=earlier_wanted,
    )


def every_place(problem: Problem) -> list[Slot]:
    """Every open day of every feed."""
    return [
        Slot(day, name, feed_id)
        for name, tank in problem.tanks.items()
        for feed_id, feed in tank.feeds.items()
        for day in feed.open
    ]


def every_plan(problem: Problem, most: int = 9) -> Iterator[tuple[Slot, ...]]:
    """Every choice of servings on open days; problems with more places for servings are left out."""
    places = every_place(problem)
    assume(len(places) <= most)
    for taken in product((False, True), repeat=len(places)):
        yield tuple(sorted(slot for slot, take in zip(places, taken, strict=True) if take))
