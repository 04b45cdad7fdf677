"""The chores of a week: how often each was done, left out or missed, and the minutes they took."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from schedules.chores import ChoreDue, due_at
from schedules.chores.windows import calendar_window
from schedules.history import History
from schedules.room import Room
from schedules.room.chores import Chore


@dataclass(frozen=True, slots=True)
class ChoreKept:
    """One chore over a week, at all its places.

    `done` and `left_out` count marks. `missed` counts turns of which the last day went by in this week with nothing
    marked, also where it was done later. `late` is at how many places it was past its last day when the week ended.
    `minutes` are the chore's own, for each time it was done.
    """

    chore: str
    done: int
    left_out: int
    missed: int
    late: int
    minutes: float


def chores_of(room: Room, history: History, today: date, days: Sequence[date]) -> tuple[ChoreKept, ...]:
    """The chores of some days of which there is anything to say, in the order of the room file."""
    found: dict[str, list[ChoreDue]] = {}
    for place in room.chores_at:
        for day in days:
            for each in due_at(room, history, today, day, place):
                found.setdefault(each.chore.id, []).append(each)
    kept = (_kept(chore, found.get(chore.id, []), days[-1]) for chore in room.chores)
    return tuple(each for each in kept if each.done or each.left_out or each.missed or each.late)


def _kept(chore: Chore, found: Sequence[ChoreDue], last: date) -> ChoreKept:
    done = sum(each.state == "done" for each in found)
    return ChoreKept(
        chore=chore.id,
        done=done,
        left_out=sum(each.state == "skipped" for each in found),
        missed=sum(_closes(each) for each in found if each.state == "missed"),
        late=sum(each.days_late > 0 for each in found if each.on == last),
        minutes=done * chore.minutes,
    )


def _closes(each: ChoreDue) -> bool:
    """Whether a day is the last one of a turn: of the one that is due, or of one of its calendar after it."""
    if each.turn is None or each.turn.last == each.on:
        return each.turn is not None
    window = calendar_window(each.chore, each.on) if each.chore.rule is not None else None
    return window is not None and window.first > each.turn.last and window.last == each.on
