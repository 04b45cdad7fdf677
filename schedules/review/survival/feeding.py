"""How a cohort was fed in its first days: what was planned of fine feed, and what of it was given."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from schedules.history import History
from schedules.room import Room


@dataclass(frozen=True, slots=True)
class FineFeed:
    """Fine feed in the first days of a cohort in the tank it hatched in.

    `planned` servings were due on `days` days, `given` of them were given; on `without` days there was none at all, and
    on `missed` days some was due and nothing was marked.
    """

    days: int
    planned: int
    given: int
    without: int
    missed: int

    @classmethod
    def sum_of(cls, several: Iterable[FineFeed]) -> FineFeed:
        """That of several cohorts."""
        listed = [(each.days, each.planned, each.given, each.without, each.missed) for each in several]
        return cls(*(sum(column) for column in zip((0, 0, 0, 0, 0), *listed, strict=True)))

    @property
    def share(self) -> float | None:
        """The part of what was planned that was given, None where nothing was."""
        return self.given / self.planned if self.planned else None


def fine_feed(room: Room, history: History, tank: str, hatch: date, first_days: int) -> FineFeed:
    """What of fine feed was planned and given from a hatch on, today left out: it is not over."""
    days = [
        day
        for day in (hatch + timedelta(days=number) for number in range(first_days))
        if history.first <= day < history.last
    ]
    planned = given = without = missed = 0
    for day in days:
        due = {each.feed for each in history.due_in(tank, day) if _is_fine(room, each.feed)}
        served = {what.feed for _, what in history.served_on(tank, day) if _is_fine(room, what.feed)}
        marked = {getattr(entry.what, "feed", None) for entry in history.about(tank, day)}
        planned, given = planned + len(due), given + len(due & served)
        without += not served
        missed += bool(due) and not due & marked
    return FineFeed(len(days), planned, given, without, missed)


def _is_fine(room: Room, feed: str) -> bool:
    return feed in room.feeds and room.feeds[feed].table == "fine"
