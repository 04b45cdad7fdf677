"""What was done of the chores in an invented past: nearly all of it on its day, some left out, some not done at all."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from random import Random
from typing import Final

from schedules.chores import ChoreDue, due_at
from schedules.history import History
from schedules.ledger import ChoreMark, Reason
from schedules.room import Room
from schedules.room.chores import ChorePlace
from schedules.round.marks import chore_mark

PASSED_BY: Final = 0.02
LEFT_OUT: Final = 0.01
"""Of a hundred turns, so many were passed by and done on a later day, and so many left out."""
LATE: Final = ("rinse_sponge", "w3", 23)
"""A chore, its tank, and for how many days nobody did it there."""
REASONS: Final = ("no time today", "many just moulted")


class ChoresPast:
    """The chores of a room day by day; `settled` is when each was last settled."""

    def __init__(self, room: Room, today: date, seed: int) -> None:
        self._room = room
        self._today = today
        self._chance = Random(seed)
        self._settled: dict[tuple[str, str], date] = {}

    def on(self, day: date) -> Iterator[ChoreMark]:
        """What was marked on a day."""
        history = History(day, day, (), (), {}, {}, chores_before=dict(self._settled))
        for place in self._room.chores_at:
            for each in due_at(self._room, history, day, day, place):
                if mark := self._mark(each, place, day):
                    self._settled[place.tank or "", mark.subject] = day
                    yield mark

    def _mark(self, each: ChoreDue, place: ChorePlace, day: date) -> ChoreMark | None:
        chore, tank, days = LATE
        if (each.chore.id, place.tank) == (chore, tank) and day >= self._today - timedelta(days=days):
            return None
        luck = self._chance.random()
        if luck < PASSED_BY:
            return None
        left_out = luck < PASSED_BY + LEFT_OUT
        return chore_mark(each.chore, place, Reason.other(self._chance.choice(REASONS)) if left_out else None)
