"""What a planner gives back."""

from __future__ import annotations

from dataclasses import dataclass

from schedules.problem.types import Slot


@dataclass(frozen=True, slots=True)
class Cost:
    """The cost of a plan by name, weights applied; what each counts is written at `schedules.rules`."""

    overdue: float
    unaccompanied: float
    weekly: float
    repeat: float
    longest_round: float
    churn: float

    @property
    def total(self) -> float:
        """The sum of all costs."""
        return self.overdue + self.unaccompanied + self.weekly + self.repeat + self.longest_round + self.churn


@dataclass(frozen=True, slots=True)
class Plan:
    """Slots in the order (day, tank, feed), their cost, and a proven lower bound on the cost where there is one."""

    slots: tuple[Slot, ...]
    cost: Cost
    bound: float | None
