"""Whether the young live: each hatch as a cohort, what became of it, and what can be concluded.

In: a room, its life and its history. Out: cohorts and groups of them. Read `cohorts.py` first.
"""

from schedules.review.survival.cohorts import Cohort, cohorts_of
from schedules.review.survival.conditions import Conditions, conditions_of
from schedules.review.survival.groups import By, Grouped, grouped

__all__ = ["By", "Cohort", "Conditions", "Grouped", "cohorts_of", "conditions_of", "grouped"]
