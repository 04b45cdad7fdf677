"""What was done of the chores, or left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from schedules.chores import ChoreDue, due_at, next_turn
from schedules.formatting import clean
from schedules.ledger import ChoreMark, Reason
from schedules.room.chores import Chore, ChorePlace
from schedules.round.marks import chore_mark
from schedules.session.acts.writing import Writing
from schedules.session.open_round import days_before
from schedules.session.outcome import Outcome


class ChoreActs(Writing):
    """A round in which chores can be done."""

    def did(self, chore: str, place: ChorePlace, because: str | None = None, *, day: date | None = None) -> Outcome:
        """Record a chore as done at a place, or (`because` says why) as left out, today or on a past day."""
        found = next((each for each in self.room.chores_at.get(place, ()) if each.id == chore), None)
        if found is None:
            return self._nothing("not_here", place.tank)
        on = day or self.day
        due = due_at(self.room, self.reaching(days_before(on, 1)), on, on, place)
        stood = next((each for each in due if each.chore.id == chore), None) or self._not_due(found, place, on)
        reason = None if because is None else Reason.other(clean(because))
        return replace(self._write("did", [chore_mark(found, place, reason)], on), chore=stood)

    def _not_due(self, chore: Chore, place: ChorePlace, day: date) -> ChoreDue:
        turn = next_turn(self.room, self.history, chore, place, day, day)
        return ChoreDue(chore, place, day, "due", None, next=None if turn is None else turn.day)

    def is_chore_due(self, each: ChoreDue) -> bool:
        """Whether a chore is due and no unsaved act settles it."""
        return each.state == "due" and not self.unsaved.settles_chore(self.day, chore_mark(each.chore, each.place))


def left_out(chores: Sequence[ChoreDue], because: str) -> list[ChoreMark]:
    """Some chores as left out for a reason."""
    return [chore_mark(each.chore, each.place, Reason.other(clean(because))) for each in chores]
