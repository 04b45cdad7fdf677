"""When a need was last answered by any of several feeds, and from which day on the ledger knows."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date

from schedules.history import History


def last_answered(history: History, tank: str, feeds: Iterable[str], before: date) -> tuple[date, str] | None:
    """The last day before `before` on which a tank was given one of these feeds, and which; None for never.

    Of several feeds on that day, the last in order of id.
    """
    days = ((history.last_day(tank, feed, before), feed) for feed in feeds)
    return max(((day, feed) for day, feed in days if day is not None), default=None)


def days_answered(history: History, tank: str, feeds: Iterable[str], first: date, last: date) -> set[date]:
    """The days from `first` to `last` on which a tank was given any of these feeds, as far as the history reaches."""
    return {entry.day for feed in feeds for entry, _ in history.servings(tank, feed) if first <= entry.day <= last}


def days_left_out(history: History, tank: str, feeds: Collection[str], since: date, today: date) -> int:
    """How many of the days after `since` up to today a leave plan left these feeds out in a tank on purpose.

    None where it did not keep to that plan: one of them was due on such a day before today, and was not given since.
    """
    away = [day for day in history.leave if since < day <= today]
    due = {day for day in away if any(each.feed in feeds for each in history.due_in(tank, day))}
    return 0 if any(day < today for day in due) else len(away) - len(due)


def ledger_begin(history: History) -> date | None:
    """The first day the ledger knows of: its first serving or the first posting within the history."""
    first_served = min(history.first_ever.values(), default=None)
    first_posted = min((posting.start for posting in history.postings), default=None)
    return min((day for day in (first_served, first_posted) if day is not None), default=None)
