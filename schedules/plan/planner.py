"""The planner: from a problem to a plan that keeps every hard rule and costs little.

Decisions depend on the problem alone: efforts are counted in steps, never in seconds. NumPy is loaded only when a plan
is searched.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from schedules.plan.cost import cost
from schedules.plan.types import Plan
from schedules.problem.types import Problem, Slot

if TYPE_CHECKING:
    from schedules.plan.search import RoomSearch


def quick(problem: Problem, previous: Iterable[Slot] = ()) -> Plan:
    """A legal plan at once, a good deal dearer than the best: to start a day with while `plan` is at work.

    With `previous`, the plan made a day ago, it follows that one wherever it can.
    """
    known = _within(problem, previous)
    if known:
        from schedules.plan.replan import carried_on_at_once

        slots = tuple(carried_on_at_once(problem, known))
        return Plan(slots, cost(problem, slots), None)
    from schedules.plan.search import RoomSearch, effort_at_once

    room = RoomSearch(problem, effort_at_once(len(problem.tanks)))
    room.run()
    slots = tuple(room.slots())
    return Plan(slots, cost(problem, slots), None)


def plan(problem: Problem, previous: Iterable[Slot] = ()) -> Plan:
    """A plan of the whole horizon, with a proven lower bound.

    With `previous`, the plan made a day ago (days numbered from this problem's day 0), only what has to move is planned
    anew, in a fraction of the time; then no bound is proven.
    """
    known = _within(problem, previous)
    if known:
        from schedules.plan.replan import carried_on

        slots = tuple(carried_on(problem, known))
        return Plan(slots, cost(problem, slots), None)
    room = searched(problem)
    slots = tuple(room.slots())
    found = cost(problem, slots)
    bound = room.proven()
    return Plan(slots, found, None if bound is None else min(bound, found.total))


def _within(problem: Problem, slots: Iterable[Slot]) -> list[Slot]:
    return [slot for slot in slots if 0 <= slot.day < problem.days]


def searched(problem: Problem) -> RoomSearch:
    """The whole search for a problem, with its bound and the prices that gave it."""
    from schedules.plan import polish, search

    room = search.RoomSearch(problem, search.effort_for(len(problem.tanks)))
    room.run()
    if len(problem.tanks) <= search.SMALL and not room.close():
        polish.polish(room)
    return room


def replan_tank(problem: Problem, slots: Iterable[Slot], tank: str) -> tuple[Slot, ...]:
    """The whole plan with the servings of one tank planned anew, the other tanks' left as they are."""
    from schedules.plan.replan import tank_anew

    return tuple(tank_anew(problem, list(slots), tank))
