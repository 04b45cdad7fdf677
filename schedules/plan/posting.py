"""From a plan to what is written down of it: servings with their amounts, by day."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from math import floor

from schedules.amounts.ration import Amount, serving
from schedules.history import History
from schedules.ledger.entries import PostedServing, Posting, Served, Skipped
from schedules.plan.opening import ENOUGH_DAYS, goes_on
from schedules.plan.types import Plan
from schedules.problem.build import build_problem
from schedules.problem.types import Problem, Slot
from schedules.room import Presence, Room
from schedules.rules import CHURN_DAYS

HORIZON_DAYS = 28


def servings_of(room: Room, history: History, problem: Problem, slots: Iterable[Slot]) -> tuple[PostedServing, ...]:
    """The slots of a plan as servings with their amounts, in the order given.

    Amounts go by what is known on the plan's first day. A feed held back for a day or two is planned all the same: the
    round holds it back, since leftovers may be reported after the plan was posted.
    """
    listed = tuple(slots)
    beside = Counter((slot.day, slot.tank, room.feeds[slot.feed].table) for slot in listed)
    amounts: dict[tuple[str, str, bool, date | None, tuple[Presence, ...]], Amount] = {}
    servings = []
    for slot in listed:
        tank, feed = room.tanks[slot.tank], room.feeds[slot.feed]
        day = problem.start + timedelta(days=slot.day)
        rules, share = tank.feeds[feed.id], problem.tanks[tank.id].feeds[feed.id].share
        alone = beside[slot.day, tank.id, feed.table] == 1
        # A tank's animals change on few days of a plan, and working an amount out reads the whole history of the feed.
        here = tuple(animals for animals in tank.animals if animals.on(day))
        growing = any(animals.length is None and animals.hatch_day is not None for animals in here)
        key = (tank.id, feed.id, alone, day if growing else None, here)
        if key not in amounts:
            part = max(share, rules.most) if alone else share
            amounts[key] = serving(tank, feed, part, day, room=room, history=history)
        amount = amounts[key]
        servings.append(
            PostedServing(
                tank.id,
                feed.id,
                feed.round,
                _short(amount.part),
                amount.measures,
                amount.unit,
                amount.mg,
                rules.method,
            )
        )
    return tuple(servings)


def _short(share: float) -> float:
    """A share as it is written down: cut, so that shares never add up to more; short, as each day writes thousands."""
    return floor(share * 1e6) / 1e6


def posted_servings(
    room: Room, history: History, problem: Problem, made: Plan
) -> tuple[tuple[PostedServing, ...], ...]:
    """The servings of a plan by day, each day in walking order and the order of the stock."""
    place = {tank: number for number, tank in enumerate(room.walk)}
    shelf = {feed: number for number, feed in enumerate(room.feeds)}
    slots = sorted(made.slots, key=lambda slot: (slot.day, place[slot.tank], shelf[slot.feed]))
    days: list[list[PostedServing]] = [[] for _ in range(problem.days)]
    for slot, made_of in zip(slots, servings_of(room, history, problem, slots), strict=True):
        days[slot.day].append(made_of)
    return tuple(tuple(servings) for servings in days)


def plan_days(
    room: Room, history: History, start: date, days: int = HORIZON_DAYS, today: date | None = None
) -> tuple[Problem, Plan]:
    """The problem of the days from `start` and a plan for it; posts nothing.

    A plan that starts after `today` counts on what is due until then: servings not marked yet are taken as given.
    """
    as_given = frozenset[tuple[date, str, str]]() if today is None else _still_due(history, today, start)
    # Imported here and not above: a day whose plan is posted already is opened without a planner.
    from schedules.plan.planner import plan

    problem = build_problem(room, history, start, days, as_given)
    return problem, plan(problem)


def carry_on(room: Room, history: History, today: date) -> Posting:
    """The posting of the days from today, by a plan that changes what was posted only where it has to.

    Where too little was posted to go by (`opening.goes_on`), they are planned from nothing, which takes longer.
    """
    from schedules.plan.planner import plan

    problem = build_problem(room, history, today, HORIZON_DAYS)
    previous = _followed(problem, history.posting(today), today)
    return Posting(today, posted_servings(room, history, problem, plan(problem, previous)))


def only_today(room: Room, history: History, today: date) -> Posting:
    """The posting of today alone, by a plan that is made at once and looks no further than today needs."""
    from schedules.plan.planner import quick

    problem = build_problem(room, history, today, ENOUGH_DAYS)
    made = quick(problem, _followed(problem, history.posting(today), today))
    first = replace(made, slots=tuple(slot for slot in made.slots if slot.day == 0))
    return Posting(today, posted_servings(room, history, problem, first)[:1])


def today_and_on(room: Room, history: History, today: date, earlier: Posting | None) -> Posting:
    """The posting of today as it was posted, and of the days after it by a plan that counts on today.

    `earlier` is the whole posting of the day before, which that plan follows where it goes on.
    """
    from schedules.plan.planner import plan

    tomorrow = today + timedelta(days=1)
    problem = build_problem(room, history, tomorrow, HORIZON_DAYS - 1, _still_due(history, today, tomorrow))
    previous = _followed(problem, earlier, today)
    # Today's own posting says nothing of the days after it: what changes is counted from the one before.
    problem = replace(problem, posted=tuple(slot for slot in previous if slot.day < CHURN_DAYS))
    made = plan(problem, previous)
    return Posting(today, (history.due(today), *posted_servings(room, history, problem, made)))


def _followed(problem: Problem, posting: Posting | None, today: date) -> list[Slot]:
    """What a posting says of a problem's days, in tanks that still have the feed; nothing where it does not go on."""
    return [
        Slot(number, due.tank, due.feed)
        for number in range(problem.days)
        for due in (posting.due(problem.start + timedelta(days=number)) if posting and goes_on(posting, today) else ())
        if due.tank in problem.tanks and due.feed in problem.tanks[due.tank].feeds
    ]


def _still_due(history: History, today: date, start: date) -> frozenset[tuple[date, str, str]]:
    """Servings due from today up to the day before `start` that nobody marked."""
    return frozenset(
        (day, due.tank, due.feed)
        for day in (today + timedelta(days=number) for number in range((start - today).days))
        for due in history.due(day)
        if not any(
            isinstance(entry.what, Served | Skipped) and entry.what.feed == due.feed
            for entry in history.about(due.tank, day)
        )
    )
