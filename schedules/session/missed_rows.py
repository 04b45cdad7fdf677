"""What was missed, put together for the eye: a whole missed round is one line, everything else a line each."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final

from schedules.history import History
from schedules.ledger import Acknowledged
from schedules.review.missed import Missed
from schedules.room import Room

RoundOfDay = tuple[date, str]
DAYS_BACK: Final = 7
"""How many days the list of the missed looks back."""


@dataclass(frozen=True, slots=True)
class MissedRow:
    """One line: one missed serving, or (`whole`) all servings of a round of which nothing was marked."""

    day: date
    round: str
    gaps: tuple[Missed, ...]
    whole: bool


def missed_rows(
    room: Room, history: History, found: Iterable[Missed], opened: Collection[RoundOfDay]
) -> tuple[MissedRow, ...]:
    """The lines, whole rounds first and newest first; of those in `opened`, the single servings stand below."""
    by_round: dict[RoundOfDay, list[Missed]] = {}
    for gap in found:
        by_round.setdefault((gap.day, gap.due.round), []).append(gap)
    whole = {each: gaps for each, gaps in by_round.items() if len(gaps) > 1 and len(gaps) == _due(room, history, each)}
    rows: list[MissedRow] = []
    for each in sorted(whole, reverse=True):
        rows.append(MissedRow(*each, tuple(whole[each]), True))
        if each in opened:
            rows += [MissedRow(*each, (gap,), False) for gap in whole[each]]
    rows += [MissedRow(gap.day, gap.due.round, (gap,), False) for gap in found if (gap.day, gap.due.round) not in whole]
    return tuple(rows)


def _due(room: Room, history: History, each: RoundOfDay) -> int:
    """How many servings of tanks that still stand were due in a round of a day."""
    day, round_id = each
    return sum(due.round == round_id and due.tank in room.tanks for due in history.due(day))


def last_looked(history: History, by: str, today: date) -> date | None:
    """The last day before today on which a keeper wrote anything: what was missed from then on is new to this one.

    A flag of a past day that was seen tells nothing of where the keeper was on that day.
    """
    written = (entry for entry in history.entries if not isinstance(entry.what, Acknowledged))
    return max((entry.day for entry in written if entry.by == by and entry.day < today), default=None)
