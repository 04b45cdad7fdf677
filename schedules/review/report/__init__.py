"""The weekly report: what a week came to, as values counted from the ledger, so that two weeks can stand side by side.

In: a room, its history, its animals' life and its shelf, a Monday, the moment. Out: a `Week`. Read `week.py` first.
"""

from schedules.review.report.week import Week, last_of_week, monday_of, week_report

__all__ = ["Week", "last_of_week", "monday_of", "week_report"]
