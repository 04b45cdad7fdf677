"""The rounds of a week: what was due in each, and what was given, left out or missed, and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from schedules.history import History
from schedules.ledger import Entry, Reason, Served, Skipped
from schedules.room import Room


@dataclass(frozen=True, slots=True)
class RoundKept:
    """One round of a day: servings that were due in it, and what became of them.

    `away`: a helper fed by a leave plan. `minutes` are from its first mark to its last, of those made on that very day;
    0 where there were fewer than two.
    """

    day: date
    round: str
    due: int
    given: int
    skipped: int
    missed: int
    away: bool
    minutes: float

    @property
    def kept(self) -> bool:
        """Whether everything due was given or left out on purpose."""
        return self.missed == 0

    @property
    def walked(self) -> bool:
        """Whether anything due was marked at all."""
        return self.given + self.skipped > 0


def rounds_of(room: Room, history: History, days: Sequence[date]) -> tuple[RoundKept, ...]:
    """The rounds of some days in which anything was due, by day and in the order of the room's rounds."""
    return tuple(found for day in days for walk in room.rounds if (found := _round(room, history, day, walk.id)))


def _round(room: Room, history: History, day: date, round_id: str) -> RoundKept | None:
    due = [each for each in history.due(day) if each.round == round_id and each.tank in room.tanks]
    if not due:
        return None
    marks = [_mark(history, day, each.tank, each.feed) for each in due]
    given = sum(isinstance(mark.what, Served) for mark in marks if mark)
    skipped = sum(isinstance(mark.what, Skipped) for mark in marks if mark)
    on_the_day = [mark.at for mark in marks if mark and room.day(mark.at) == day]
    missed = len(due) - given - skipped
    return RoundKept(day, round_id, len(due), given, skipped, missed, day in history.leave, _minutes(on_the_day))


def _mark(history: History, day: date, tank: str, feed: str) -> Entry | None:
    """The entry that settled a serving: a serving before one left out."""
    found = [
        entry
        for entry in history.about(tank, day)
        if isinstance(entry.what, Served | Skipped) and entry.what.feed == feed
    ]
    return min(found, key=lambda entry: isinstance(entry.what, Skipped), default=None)


def _minutes(moments: Sequence[datetime]) -> float:
    return (max(moments) - min(moments)).total_seconds() / 60 if moments else 0.0


def reasons_of(history: History, room: Room, days: Sequence[date]) -> Mapping[Reason, int]:
    """Why servings were left out on some days, and how often, the most frequent first."""
    return dict(Counter(_reasons(history, room, days)).most_common())


def _reasons(history: History, room: Room, days: Sequence[date]) -> Iterator[Reason]:
    for day in days:
        for tank in room.walk:
            for entry in history.about(tank, day):
                if isinstance(entry.what, Skipped):
                    because = entry.what.because
                    yield because if because.code == "other" else Reason(because.code)
