"""The planning problem: all that a plan depends on, as days numbered from its first day."""

from schedules.problem.types import GroupTask, LastOfGroup, Problem, Slot, TankFeed, TankProblem

__all__ = ["GroupTask", "LastOfGroup", "Problem", "Slot", "TankFeed", "TankProblem"]
