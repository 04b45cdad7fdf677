"""The planner's door: from a problem to a plan that keeps every hard rule and costs little.

Decisions depend on the problem alone: efforts are counted in steps, never in seconds. NumPy is loaded only when a plan
is searched.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from schedules.planning.problem.costs import cost
from schedules.planning.problem.types import Plan, Problem, Slot

if TYPE_CHECKING:
    from schedules.planning.search.room import RoomSearch


def plan(problem: Problem, previous: Iterable[Slot] = ()) -> Plan:
    """A plan of the whole horizon, with a proven lower bound.

    With `previous`, the plan made a day ago (days numbered from this problem's day 0), only what has to move is
    searched, in a fraction of the time; then no bound is proven.
    """
    from schedules.planning.search import room
    from schedules.planning.search.following import carried_on

    earlier = _within(problem, previous)
    if earlier:
        return _made(problem, carried_on(problem, earlier, room.FOLLOWING))
    found = room.RoomSearch(problem, room.effort_for(len(problem.tanks)))
    found.run()
    made = _made(problem, found)
    bound = found.proven()
    return Plan(made.slots, made.cost, None if bound is None else min(bound, made.cost.total))


def quick(problem: Problem, previous: Iterable[Slot] = ()) -> Plan:
    """A lawful plan at once, somewhat dearer than the best: to start a day with while `plan` is at work."""
    from schedules.planning.search import room
    from schedules.planning.search.following import carried_on

    earlier = _within(problem, previous)
    if earlier:
        return _made(problem, carried_on(problem, earlier, room.AT_ONCE))
    found = room.RoomSearch(problem, room.AT_ONCE)
    found.run()
    return _made(problem, found)


def _within(problem: Problem, slots: Iterable[Slot]) -> list[Slot]:
    return [slot for slot in slots if 0 <= slot.day < problem.days]


def _made(problem: Problem, room: RoomSearch) -> Plan:
    slots = tuple(room.slots())
    return Plan(slots, cost(problem, slots), None)
