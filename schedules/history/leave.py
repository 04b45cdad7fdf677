"""Days away: what a helper was to give on them, by the leave plans in the ledger."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from schedules.ledger import Away, Back, Entry, Ledger, PostedServing, Posting
from schedules.ledger.entries.plan.away import AWAY
from schedules.ledger.entries.plan.back import BACK

MOST_LEAVE_DAYS: Final = 60
"""A leave plan covers at most so many days, so that it is known how far back to look for one."""


@dataclass(frozen=True, slots=True)
class LeaveDay:
    """What holds on a day away: who feeds, what is due, and the entry that says so."""

    helper: str
    due: tuple[PostedServing, ...]
    seq: int


Leave = Mapping[date, LeaveDay]


def leave_days(entries: Iterable[Entry]) -> dict[date, LeaveDay]:
    """The days on which a leave plan holds, by all leave plans and their ends in the order they were written."""
    found: dict[date, LeaveDay] = {}
    for entry in sorted(entries, key=lambda entry: entry.seq):
        if isinstance(entry.what, Away):
            plan = entry.what.plan
            for number, due in enumerate(plan.days[:MOST_LEAVE_DAYS]):
                found[plan.start + timedelta(days=number)] = LeaveDay(entry.what.helper, due, entry.seq)
        elif isinstance(entry.what, Back):
            found = {day: held for day, held in found.items() if day < entry.day}
    return dict(sorted(found.items()))


def leave_of(ledger: Ledger, since: date) -> dict[date, LeaveDay]:
    """The days from `since` on, those ahead too, on which a leave plan holds."""
    after = since - timedelta(days=min(MOST_LEAVE_DAYS, since.toordinal() - 1))
    found = leave_days((*ledger.of_kind(AWAY.name, after), *ledger.of_kind(BACK.name, after)))
    return {day: held for day, held in found.items() if day >= since}


def changes_leave(entries: Iterable[Entry]) -> bool:
    """Whether entries can change on which days a leave plan holds."""
    return any(isinstance(entry.what, Away | Back) for entry in entries)


def with_leave(posting: Posting, leave: Leave) -> Posting:
    """A posting as it holds: on days away the leave plan's servings stand for its own."""
    days = [posting.start + timedelta(days=number) for number in range(len(posting.days))]
    if not any(day in leave for day in days):
        return posting
    held = (leave[day].due if day in leave else due for day, due in zip(days, posting.days, strict=True))
    return Posting(posting.start, tuple(held))
