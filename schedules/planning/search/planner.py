"""The planner's door: from a problem to a plan that keeps every hard rule and costs little.

Decisions depend on the problem alone: efforts are counted in steps, never in seconds. NumPy is loaded only when a plan
is searched.
"""

from __future__ import annotations

from collections.abc import Iterable

from schedules.planning.problem.costs import cost
from schedules.planning.problem.types import Plan, Problem, Slot


def plan(problem: Problem, previous: Iterable[Slot] = ()) -> Plan:
    """A plan of the whole horizon, with a proven lower bound."""
    from schedules.planning.search.room import Effort, RoomSearch

    room = RoomSearch(problem, Effort(eval(__import__("os").environ.get("EFF", "((20,64),(6,32))")), 16, 32, 100))
    room.run()
    slots = tuple(room.slots())
    return Plan(slots, cost(problem, slots), room.proven())
