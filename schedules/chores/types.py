"""A chore at a place on a day: its turn, how it stands, and when its next turn comes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from schedules.ledger.entries import Entry
from schedules.room.chores import Chore, ChorePlace

ChoreState = Literal["due", "done", "skipped", "missed"]


@dataclass(frozen=True, slots=True)
class Window:
    """The days from `first` to `last` (both included) on which one turn of a chore may be done."""

    first: date
    last: date


@dataclass(frozen=True, slots=True)
class Turn:
    """One turn of a chore at one place: it is due from `day` on, and late after `last`."""

    chore: Chore
    place: ChorePlace
    day: date
    last: date


@dataclass(frozen=True, slots=True)
class ChoreDue:
    """A chore at a place on the day `on`.

    `turn` is the turn that is due, None for a chore that was marked though none was. `marked` is the entry that settled
    it on that day. `passed` is how many more turns of its calendar went by meanwhile: one mark settles them all.
    `next` is the day of the turn after it, once it is marked, or as if it were done on that day; None where none comes.
    """

    chore: Chore
    place: ChorePlace
    on: date
    state: ChoreState
    turn: Turn | None
    marked: Entry | None = None
    passed: int = 0
    next: date | None = None

    @property
    def days_late(self) -> int:
        """How many days past the last day of its window the turn is, 0 within it and once it is settled."""
        if self.turn is None or self.state in ("done", "skipped"):
            return 0
        return max(0, (self.on - self.turn.last).days)
