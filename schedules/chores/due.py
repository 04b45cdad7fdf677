"""Which chores are due at a place on a day, since when, and when the next turn comes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import Final

from schedules.chores.conditions import happened
from schedules.chores.spreading import spreading_of
from schedules.chores.types import ChoreDue, Turn, Window
from schedules.chores.windows import DAY, calendar_window, next_window, turns_between
from schedules.history import History
from schedules.ledger.entries import ChoreMark, Entry, Reading, WaterAdded
from schedules.room import Room
from schedules.room.chores import Chore, ChorePlace

MOST_TURNS: Final = 400
"""So many turns ahead are followed at most: a year of a daily chore."""


def due_at(
    room: Room, history: History, today: date, day: date, place: ChorePlace, round_id: str | None = None
) -> tuple[ChoreDue, ...]:
    """What is due at a place on a day or was marked on it, in the order of the file; of one round where one is named.

    What is open on a day before `today` was missed on it. On a day to come it is due if everything until then is done
    on its day.
    """
    chores = (chore for chore in room.chores_at.get(place, ()) if round_id in (None, chore.round))
    found = (_due(room, history, today, day, chore, place) for chore in chores)
    return tuple(each for each in found if each is not None)


def turns_due(room: Room, history: History, today: date) -> tuple[ChoreDue, ...]:
    """Everything that is due or was marked today, place by place."""
    return tuple(each for place in room.chores_at for each in due_at(room, history, today, today, place))


def late_chores(room: Room, history: History, today: date) -> tuple[ChoreDue, ...]:
    """What is past the last day of its window and not settled, the longest first."""
    found = (each for each in turns_due(room, history, today) if each.state == "due" and each.days_late)
    return tuple(sorted(found, key=lambda each: -each.days_late))


def next_turn(
    room: Room, history: History, chore: Chore, place: ChorePlace, settled: date | None, upto: date
) -> Turn | None:
    """The turn after the day on which a chore was last settled (None: never); a condition is looked at up to `upto`."""
    if chore.condition is not None:
        return _by_condition(room, history, chore, place, settled, upto)
    window = next_window(chore, settled)
    if window is None:
        return None
    return Turn(chore, place, _day_within(room, chore, place, window, settled), window.last)


def coming(room: Room, history: History, chore: Chore, place: ChorePlace, today: date, last: date) -> Iterator[date]:
    """The days from `today` to `last` on which a chore has its turns, if each is done on its day; late ones today."""
    settled = settled_before(history, chore, place, today + DAY)
    for _ in range(MOST_TURNS):
        turn = next_turn(room, history, chore, place, settled, today)
        if turn is None or turn.day > last:
            return
        settled = max(turn.day, today)
        yield settled
        if chore.condition is not None:
            return


def settled_before(history: History, chore: Chore, place: ChorePlace, day: date) -> date | None:
    """The last day before `day` on which a chore was done or left out at a place, None for never."""
    earlier = [entry.day for entry in _marks(history, chore, place) if entry.day < day]
    return max(earlier, default=None) or history.chores_before.get((place.tank or "", chore.subject(place)))


def _due(room: Room, history: History, today: date, day: date, chore: Chore, place: ChorePlace) -> ChoreDue | None:
    if day > today:
        return _ahead(room, history, today, day, chore, place)
    marked = _marked_on(history, chore, place, day)
    turn = next_turn(room, history, chore, place, settled_before(history, chore, place, day), day)
    if turn is not None and turn.day > day:
        turn = None
    if turn is None and marked is None:
        return None
    passed = 0 if turn is None else turns_between(chore, turn.last + DAY, day)
    following = next_turn(room, history, chore, place, day, day)
    found = ChoreDue(chore, place, day, "due", turn, marked, passed, following.day if following else None)
    if marked is not None:
        left_out = isinstance(marked.what, ChoreMark) and marked.what.because is not None
        return replace(found, state="skipped" if left_out else "done")
    return replace(found, state="missed") if day < today else found


def _ahead(room: Room, history: History, today: date, day: date, chore: Chore, place: ChorePlace) -> ChoreDue | None:
    if day not in coming(room, history, chore, place, today, day):
        return None
    following = next_turn(room, history, chore, place, day, day)
    turn = Turn(chore, place, day, day)
    return ChoreDue(chore, place, day, "due", turn, next=following.day if following else None)


def _marked_on(history: History, chore: Chore, place: ChorePlace, day: date) -> Entry | None:
    return next((entry for entry in _marks(history, chore, place) if entry.day == day), None)


def _marks(history: History, chore: Chore, place: ChorePlace) -> tuple[Entry, ...]:
    """What settles a chore at a place: its own marks, then entries that do it by being written."""
    marks = history.chore_marks(place.tank or "", chore.subject(place))
    if chore.done_by is None or place.tank is None:
        return marks
    does = Reading if chore.done_by == "reading" else WaterAdded
    return (*marks, *(entry for entry in history.water_of(place.tank) if isinstance(entry.what, does)))


def _by_condition(
    room: Room, history: History, chore: Chore, place: ChorePlace, settled: date | None, upto: date
) -> Turn | None:
    day = None if place.tank is None else happened(room, history, chore, place.tank, upto)
    if day is None or (settled is not None and settled >= day):
        return None
    return Turn(chore, place, day, day + (chore.within - 1) * DAY)


def _day_within(room: Room, chore: Chore, place: ChorePlace, window: Window, settled: date | None) -> date:
    """The day of a window on which a place has its turn: where its calendar has it, else the first day somebody comes.

    The window of an `every` chore moves with what was done. It falls back into the calendar's step as soon as the
    calendar's day lies in it, so that places that were done together do not stay together.
    """
    spread = spreading_of(room)
    if chore.rule is not None or settled is None:
        return spread.day(chore, window, place)
    days = spread.days(chore, window)
    planned = (
        day for day in days if (of := calendar_window(chore, day)) is not None and spread.day(chore, of, place) == day
    )
    return next(planned, days[0])
