"""Missed servings: what was due on a past day and neither given nor skipped, and what becomes of it."""

from schedules.review.missed.missed import Missed, Outcome, missed, unposted_days
from schedules.review.missed.summary import Consequence, MissedFeed, MissedGroup, by_consequence
from schedules.review.missed.turns import Turns
from schedules.review.missed.unposted import DaySpan, spans, whole_spans

__all__ = [
    "Consequence",
    "DaySpan",
    "Missed",
    "MissedFeed",
    "MissedGroup",
    "Outcome",
    "Turns",
    "by_consequence",
    "missed",
    "spans",
    "unposted_days",
    "whole_spans",
]
