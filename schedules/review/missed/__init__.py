"""Missed servings: what was due on a past day and neither given nor skipped, and what becomes of it."""

from schedules.review.missed.missed import Missed, Outcome, missed, unposted_days
from schedules.review.missed.turns import Turns

__all__ = ["Missed", "Outcome", "Turns", "missed", "unposted_days"]
