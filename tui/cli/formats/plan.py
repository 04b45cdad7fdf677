"""What `plan` prints: the problem as `schedules/planning/README.md` describes it, and the servings planned for it."""

from __future__ import annotations

from typing import Literal

from schedules.planning.problem.json import schema
from tui.cli.formats.base import Amount, Count, Day, Part


class Serving(Part):
    """A serving on one day. What only the room knows is null where a bare problem was planned."""

    day: Count
    """days from `start`"""
    date: Day
    round: str
    tank: str
    feed: str
    part: Amount
    """of its table's ration of the day"""
    amount: Amount | None
    """in `unit`"""
    unit: str | None
    amount_mg: Amount | None
    method: str | None
    why: str | None
    """in English"""


class Cost(Part):
    """The plan's cost in points, for a bug report."""

    overdue: Amount
    unaccompanied: Amount
    weekly: Amount
    repeat: Amount
    longest_round: Amount
    churn: Amount
    late_churn: Amount
    total: Amount


class Plan(Part):
    """`rackround plan --json`."""

    format: Literal["rackround-plan/2"]
    start: Day
    days: Count
    problem: schema.Body
    servings: list[Serving]
    cost: Cost
    bound: Amount | None
    """no plan can cost less; null where it is not known"""
