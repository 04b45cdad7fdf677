"""Why a serving is given on its day: the needs that it answers, most pressing first, then the rest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from schedules.planning.explain.reasons import Reason
from schedules.planning.problem.calendar import run_starts, week_targets
from schedules.planning.problem.costs import answered_days
from schedules.planning.problem.types import Clock, Problem, Slot, TankProblem
from schedules.room.kinds import ACCOMPANIED


def why(problem: Problem, slots: Iterable[Slot], slot: Slot) -> tuple[Reason, ...]:
    """What speaks for a serving of a plan."""
    mine = sorted(one for one in slots if one.tank == slot.tank)
    tank = problem.tanks[slot.tank]
    clocks = {name: clock for name, clock in tank.clocks.items() if slot.feed in clock.feeds}
    since = [reason for name, clock in clocks.items() if (reason := _since(problem, mine, name, clock, slot))]
    found = sorted(since, key=_pressing)
    found += [reason for name, clock in clocks.items() for reason in _of_week(problem, mine, name, clock, slot)]
    found += _draws(tank, mine, slot)
    found += [reason for name, clock in clocks.items() for reason in _in_turn(mine, name, clock, slot)]
    if slot in problem.posted and slot.day < problem.posted_days:
        found.append(Reason("posted"))
    return tuple(found)


def _since(problem: Problem, mine: list[Slot], name: str, clock: Clock, slot: Slot) -> Reason | None:
    """How long the clock has waited; nothing where the need was met by another feed that day, or is none that day."""
    start = run_starts(clock, problem.days)[slot.day]
    if start is None or clock.max_gap is None:
        return None
    earlier = [one.day for one in mine if one.feed in clock.feeds and one.day < slot.day]
    last = max(earlier, default=clock.last.day if clock.last else None)
    if last is None or last < start - 1:
        return Reason("first_wanted", name, days=slot.day - start + 1, limit=clock.max_gap)
    return Reason("since_last", name, days=slot.day - last, limit=clock.max_gap)


def _pressing(reason: Reason) -> float:
    return -reason.days / (reason.limit or 1)


def _of_week(problem: Problem, mine: list[Slot], name: str, clock: Clock, slot: Slot) -> Iterator[Reason]:
    served = {feed: [one.day for one in mine if one.feed == feed] for feed in clock.feeds}
    for week, earlier, target in week_targets(clock, problem):
        if week.first <= slot.day <= week.last and slot.day in clock.wanted:
            days = set(answered_days(clock, served)) & set(clock.wanted)
            count = earlier + sum(week.first <= day <= slot.day for day in days)
            yield Reason("of_week", name, days=count, limit=target)


def _draws(tank: TankProblem, mine: list[Slot], slot: Slot) -> list[Reason]:
    if not tank.feeds[slot.feed].draws or slot.day not in tank.adults:
        return []
    fine = [one.feed for one in mine if one.day == slot.day and tank.feeds[one.feed].kind in ACCOMPANIED]
    return [Reason("draws", feeds=tuple(fine))] if fine else []


def _in_turn(mine: list[Slot], name: str, clock: Clock, slot: Slot) -> list[Reason]:
    if not clock.rotate or len(clock.feeds) == 1:
        return []
    earlier = [one.feed for one in mine if one.feed in clock.feeds and one.day < slot.day]
    before = earlier[-1] if earlier else clock.last.feed if clock.last else None
    return [Reason("in_turn", name, (before,))] if before not in (None, slot.feed) else []
