"""What was missed, in words: a summary first, then group by group."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from schedules.formatting import counted, date_text
from schedules.review.missed import Consequence, DaySpan, Missed, MissedFeed, MissedGroup
from schedules.room import Room
from schedules.wording.entries import feed_name, missed_outcome_text
from schedules.wording.needs import waiting_text

HEADS: Final[dict[Consequence, str]] = {
    "overdue": "Late: beyond the longest gap",
    "given_later": "The plan gives it later",
    "let_go": "Let go until its next turn",
    "given_since": "Given since",
}
DAYS_SHOWN: Final = 4


def summary_lines(room: Room, found: Sequence[Missed], groups: Sequence[MissedGroup], today: date) -> Iterator[str]:
    """How much was missed, then for each consequence a line a tank."""
    tanks = len({gap.due.tank for gap in found})
    yield f"{counted(len(found), 'serving')} missed in {counted(tanks, 'tank')}"
    for group in groups:
        yield f"  {HEADS[group.consequence]}: {counted(len(group.tanks), 'tank')}"
    for group in groups:
        yield ""
        yield f"{HEADS[group.consequence]}:"
        for tank, feeds in group.tanks:
            said = "; ".join(_feed_text(room, feed, today) for feed in feeds)
            yield f"  {room.tanks[tank].label}: {said}"


def _feed_text(room: Room, feed: MissedFeed, today: date) -> str:
    gap = feed.newest
    more = len(feed.days) - DAYS_SHOWN
    days = ", ".join(date_text(day) for day in feed.days[-DAYS_SHOWN:]) + (f" and {more} more" if more > 0 else "")
    return (
        f"{feed_name(room, gap.due.feed)}, missed {days}; {waiting_text(room, gap)}; {missed_outcome_text(gap, today)}"
    )


def unposted_text(span: DaySpan) -> str:
    """That nothing was due on some days, and why."""
    if span.first == span.last:
        return f"no plan was posted for {_with_year(span.first)}, so nothing was due"
    return f"no plan was posted from {_with_year(span.first)} to {_with_year(span.last)}, so nothing was due"


def _with_year(day: date) -> str:
    return f"{date_text(day)} {day.year}"
