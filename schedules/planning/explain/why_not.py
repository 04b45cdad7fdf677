"""What keeps a feed away on a day: every hard rule that it would break, else the cost that would rise most."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from schedules.planning.explain.reasons import Reason
from schedules.planning.problem.calendar import week_targets
from schedules.planning.problem.costs import churn, longest_round, off_target, repeats, served_by_tank, unaccompanied
from schedules.planning.problem.types import PlanFeed, Problem, Slot, TankProblem
from schedules.planning.problem.weights import FULL_DAY, TOLERANCE, WEIGHTS


def why_not(problem: Problem, slots: Iterable[Slot], forced: Slot) -> tuple[Reason, ...]:
    """What keeps a feed away from a tank on a day on which the plan does not give it.

    All hard rules that giving it would break; where it breaks none, the cost that would rise most; where none would
    rise, one reason that says so.
    """
    everything = sorted(slots)
    tank = problem.tanks[forced.tank]
    mine = [slot for slot in everything if slot.tank == forced.tank]
    broken = (*_closed(tank, forced), *_gaps(tank, mine, forced), *_full(tank, mine, forced))
    return broken or (_dearest(problem, everything, mine, forced),)


def _closed(tank: TankProblem, forced: Slot) -> Iterator[Reason]:
    if forced.day not in tank.feeds[forced.feed].open:
        clocks = [clock for clock in tank.clocks.values() if forced.feed in clock.feeds]
        wanted = any(forced.day in clock.wanted for clock in clocks)
        yield Reason("not_open" if wanted or not clocks else "not_wanted")


def _gaps(tank: TankProblem, mine: list[Slot], forced: Slot) -> Iterator[Reason]:
    feed = tank.feeds[forced.feed]
    given = {(slot.day, slot.feed) for slot in mine}
    own = {(day, name) for day, name in given if name == forced.feed}
    past = {(feed.last, forced.feed)} if feed.last is not None else set()
    near = _nearest(own | past, forced.day, feed.min_gap)
    if near is not None:
        yield Reason("feed_gap", feeds=(forced.feed,), days=near[0] - forced.day, limit=feed.min_gap)
    for name, clock in tank.clocks.items():
        if forced.feed in clock.feeds:
            answers = {(day, other) for day, other in given if other in clock.feeds}
            past = {(clock.last.day, clock.last.feed)} if clock.last else set()
            near = _nearest(answers | past, forced.day, clock.min_gap)
            # That the feed itself is too near, its own gap has said already.
            if near is not None and not (near[1] == forced.feed and clock.min_gap <= feed.min_gap):
                yield Reason("clock_gap", name, (near[1],), near[0] - forced.day, clock.min_gap)


def _nearest(given: Iterable[tuple[int, str]], day: int, gap: int) -> tuple[int, str] | None:
    """The nearest of some servings that are less than a gap away."""
    near = [one for one in given if abs(one[0] - day) < gap]
    return min(near, key=lambda one: (abs(one[0] - day), one), default=None)


def _full(tank: TankProblem, mine: list[Slot], forced: Slot) -> Iterator[Reason]:
    feed = tank.feeds[forced.feed]
    beside = [slot.feed for slot in mine if slot.day == forced.day and _eaten_beside(tank.feeds[slot.feed], feed)]
    if feed.share + sum(tank.feeds[name].share for name in beside) > FULL_DAY + TOLERANCE:
        yield Reason("table_full", feeds=tuple(beside), limit=feed.share)


def _eaten_beside(one: PlanFeed, other: PlanFeed) -> bool:
    return one.table == other.table and one.share > 0


def _dearest(problem: Problem, everything: list[Slot], mine: list[Slot], forced: Slot) -> Reason:
    """The cost that rises most when the serving is added; of equal ones the need's."""
    rises = [*_rises_of_needs(problem, mine, forced), *_rises_of_room(problem, everything, forced)]
    rise, reason = max(rises, key=lambda found: found[0], default=(0.0, Reason("nothing")))
    return reason if rise > TOLERANCE else Reason("nothing")


def _rises_of_needs(problem: Problem, mine: list[Slot], forced: Slot) -> Iterator[tuple[float, Reason]]:
    """What the cost by name rises by, with the clock that has most part in it."""
    tank = problem.tanks[forced.tank]
    alone = replace(problem, tanks={forced.tank: tank})
    before = served_by_tank(mine)[forced.tank]
    after = served_by_tank(sorted([*mine, forced]))[forced.tank]
    clocks = {name: clock for name, clock in tank.clocks.items() if forced.feed in clock.feeds}
    weekly, repeated = {}, {}
    for name, clock in clocks.items():
        weekly[name] = sum(off_target(alone, clock, after)) - sum(off_target(alone, clock, before))
        repeated[name] = len(repeats(tank, clock, after)) - len(repeats(tank, clock, before))
    if clocks:
        fullest = max(weekly, key=lambda name: weekly[name])
        target = _target(problem, forced, fullest)
        yield WEIGHTS.weekly * sum(weekly.values()), Reason("week_full", fullest, limit=target)
        turn = max(repeated, key=lambda name: repeated[name])
        others = tuple(one for one in clocks[turn].feeds if one != forced.feed and forced.day in tank.feeds[one].open)
        yield WEIGHTS.repeat * sum(repeated.values()), Reason("repeat", turn, others)
    lonely = unaccompanied(tank, after) - unaccompanied(tank, before)
    yield WEIGHTS.unaccompanied * lonely, Reason("unaccompanied")


def _rises_of_room(problem: Problem, everything: list[Slot], forced: Slot) -> Iterator[tuple[float, Reason]]:
    longer = longest_round(problem, [*everything, forced]) - longest_round(problem, everything)
    yield WEIGHTS.longest_round * longer, Reason("longer_round", limit=longer)
    before, after = churn(problem, everything), churn(problem, [*everything, forced])
    changes = WEIGHTS.churn * (after[0] - before[0]) + WEIGHTS.late_churn * (after[1] - before[1])
    yield changes, Reason("not_posted")


def _target(problem: Problem, forced: Slot, clock: str) -> float | None:
    found = week_targets(problem.tanks[forced.tank].clocks[clock], problem)
    return next((target for week, _, target in found if week.first <= forced.day <= week.last), None)
