"""Plans: which feed goes into which tank on which day, what that costs and how good it could be."""

from schedules.plan.types import Cost, Plan

__all__ = ["Cost", "Plan"]
