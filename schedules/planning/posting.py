"""From a plan to what is written down of it: servings with their amounts, by day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from math import floor

from schedules.amounts.ration import Amount, serving
from schedules.history import History
from schedules.ledger.entries import PostedServing, Posting, Served, Skipped
from schedules.planning.horizon import ENOUGH_DAYS, HORIZON_DAYS, goes_on
from schedules.planning.problem.build import AsGiven, build_problem, with_posted
from schedules.planning.problem.parts import parts
from schedules.planning.problem.types import Plan, Problem, Slot
from schedules.room import Feed, Room, Tank
from schedules.room.kinds import ACCOMPANIED

_Key = tuple[str, str, float, bool, object]


def servings_of(room: Room, history: History, problem: Problem, slots: Iterable[Slot]) -> tuple[PostedServing, ...]:
    """The slots of a plan as servings with their amounts, in the order given.

    Levels are those known on the plan's first day. A feed held back for a day or two is planned all the same: the round
    holds it back, since leftovers may be reported after the plan was posted.
    """
    listed = tuple(slots)
    taken = parts(problem, listed)
    powdered = _powder_days(room, listed)
    amounts: dict[_Key, Amount] = {}
    servings = []
    for slot in listed:
        tank, feed = room.tanks[slot.tank], room.feeds[slot.feed]
        day = problem.start + timedelta(days=slot.day)
        draws = feed.draws and (slot.day, slot.tank) in powdered
        key = (tank.id, feed.id, taken[slot], draws, _living(tank, day))
        if key not in amounts:
            amounts[key] = serving(tank, feed, taken[slot], day, room=room, history=history, draw_off=draws)
        servings.append(_posted(tank, feed, amounts[key]))
    return tuple(servings)


def _powder_days(room: Room, slots: Iterable[Slot]) -> set[tuple[int, str]]:
    """The days and tanks on which adults are to be drawn off from a fine feed."""
    return {(slot.day, slot.tank) for slot in slots if room.feeds[slot.feed].kind in ACCOMPANIED}


def _living(tank: Tank, day: date) -> object:
    """What an amount depends on besides feed and part: who lives there, and the day itself where they still grow.

    A tank's animals change on few days of a plan, and working an amount out reads the whole history of the feed.
    """
    here = tuple(animals for animals in tank.animals if animals.on(day))
    growing = any(animals.length is None and animals.hatch_day is not None for animals in here)
    return here, day if growing else None


def _posted(tank: Tank, feed: Feed, amount: Amount) -> PostedServing:
    """A serving as it is written down; its part is cut, so that parts never add up to more, and short."""
    part = floor(amount.part * 1e6) / 1e6
    method = tank.feeds[feed.id].method
    return PostedServing(tank.id, feed.id, feed.round, part, amount.measures, amount.unit, amount.mg, method)


def posted_servings(
    room: Room, history: History, problem: Problem, made: Plan
) -> tuple[tuple[PostedServing, ...], ...]:
    """The servings of a plan by day, each day in walking order and the order of the stock."""
    place = {tank: number for number, tank in enumerate(room.walk)}
    shelf = {feed: number for number, feed in enumerate(room.feeds)}
    slots = sorted(made.slots, key=lambda slot: (slot.day, place[slot.tank], shelf[slot.feed]))
    days: dict[int, list[PostedServing]] = defaultdict(list)
    for slot, made_of in zip(slots, servings_of(room, history, problem, slots), strict=True):
        days[slot.day].append(made_of)
    return tuple(tuple(days[number]) for number in range(problem.days))


def plan_days(
    room: Room, history: History, start: date, days: int = HORIZON_DAYS, today: date | None = None
) -> tuple[Problem, Plan]:
    """The problem of the days from `start` and a plan for it; posts nothing.

    A plan that starts after `today` counts on what is due until then: servings not marked yet are taken as given.
    """
    # Imported here and not above: a day whose plan is posted already is opened without a planner.
    from schedules.planning.search import plan

    as_given: AsGiven = frozenset() if today is None else still_due(history, today, start)
    problem = build_problem(room, history, start, days, as_given)
    return problem, plan(problem)


def carry_on(room: Room, history: History, today: date) -> Posting:
    """The posting of the days from today, by a plan that changes what was posted only where it has to.

    Where too little was posted to follow (`horizon.goes_on`), they are planned from nothing, which takes longer.
    """
    from schedules.planning.search import plan

    problem = build_problem(room, history, today, HORIZON_DAYS)
    previous = _followed(problem, history.posting(today), today)
    return Posting(today, posted_servings(room, history, problem, plan(problem, previous)))


def only_today(room: Room, history: History, today: date) -> Posting:
    """The posting of today alone, by a plan that is made at once and looks no further than today needs."""
    from schedules.planning.search import quick

    problem = build_problem(room, history, today, ENOUGH_DAYS)
    made = quick(problem, _followed(problem, history.posting(today), today))
    first = replace(made, slots=tuple(slot for slot in made.slots if slot.day == 0))
    return Posting(today, posted_servings(room, history, problem, first)[:1])


def today_and_on(room: Room, history: History, today: date, earlier: Posting | None) -> Posting:
    """The posting of today as it was posted, and of the days after it by a plan that counts on today.

    `earlier` is the whole posting of the day before, which that plan follows where it goes on.
    """
    from schedules.planning.search import plan

    tomorrow = today + timedelta(days=1)
    problem = build_problem(room, history, tomorrow, HORIZON_DAYS - 1, still_due(history, today, tomorrow))
    previous = _followed(problem, earlier, today)
    # Today's own posting says nothing of the days after it: what changes is counted from the one before.
    covered = 0 if earlier is None or not previous else (earlier.start - tomorrow).days + len(earlier.days)
    made = plan(with_posted(problem, previous, max(0, covered)), previous)
    return Posting(today, (history.due(today), *posted_servings(room, history, problem, made)))


def _followed(problem: Problem, posting: Posting | None, today: date) -> list[Slot]:
    """What a posting says of a problem's days, in tanks that still have the feed; nothing where it does not go on."""
    return [
        Slot(number, due.tank, due.feed)
        for number in range(problem.days)
        for due in (posting.due(problem.start + timedelta(days=number)) if posting and goes_on(posting, today) else ())
        if due.tank in problem.tanks and due.feed in problem.tanks[due.tank].feeds
    ]


def still_due(history: History, today: date, start: date) -> AsGiven:
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
