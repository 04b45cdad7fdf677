"""Days away: past days of which no plan says anything, so that nothing was due and nothing could be missed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from schedules.ledger import Ledger


@dataclass(frozen=True, slots=True)
class DaySpan:
    """Days from `first` to `last`, both included."""

    first: date
    last: date


def spans(days: Iterable[date]) -> tuple[DaySpan, ...]:
    """Days in order as spans of days that follow each other."""
    found: list[DaySpan] = []
    for day in days:
        if found and found[-1].last + timedelta(days=1) == day:
            found[-1] = DaySpan(found[-1].first, day)
        else:
            found.append(DaySpan(day, day))
    return tuple(found)


def whole_spans(ledger: Ledger, days: Iterable[date]) -> tuple[DaySpan, ...]:
    """The same, the first span from the day on which it began, however long before these days that was."""
    first, *rest = spans(days) or (None,)
    if first is None:
        return ()
    posting = ledger.posting(first.first)
    begun = first.first if posting is None else posting.start + timedelta(days=len(posting.days))
    return (DaySpan(min(begun, first.first), first.last), *rest)
