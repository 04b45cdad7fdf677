"""The planner: from a problem to a plan that keeps every hard rule."""

from __future__ import annotations

from schedules.plan.cost import cost
from schedules.plan.quick import quick_slots
from schedules.plan.types import Plan
from schedules.problem.types import Problem


def plan(problem: Problem) -> Plan:
    """A plan of the whole horizon. The same problem always gives the same plan."""
    slots = tuple(quick_slots(problem))
    return Plan(slots, cost(problem, slots), None)
