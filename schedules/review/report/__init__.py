"""The weekly report: what a week came to, as values counted from the ledger, so that two weeks can stand side by side.

In: a room, its history and its animals' life, a Monday, the moment. Out: a `Week`. Read `week.py` first.
"""

from schedules.review.report.week import Week, monday_of, week_report

__all__ = ["Week", "monday_of", "week_report"]
