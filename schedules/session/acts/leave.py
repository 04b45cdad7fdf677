"""The acts about days away: a leave plan accepted or ended, a helper's ticks entered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from schedules.leave import LeavePlan
from schedules.ledger import Away, Back, What
from schedules.session.acts.writing import Writing
from schedules.session.outcome import Outcome


class LeaveActs(Writing):
    """A round from which the keeper can go away and come back."""

    def accept_leave(self, helper: str, plan: LeavePlan) -> Outcome:
        """Let a leave plan hold on its days; on days that an earlier one covers too, this one holds from now on."""
        return replace(self._write("leave", [Away(helper, plan.posting)], plan.first), undoable=False)

    def end_leave(self, day: date) -> Outcome:
        """Let what was posted hold again from a day on (today or later); days before it stay as they are."""
        return replace(self._write("end_leave", [Back()], day), undoable=False)

    def enter_ticks(self, days: Mapping[date, Sequence[What]]) -> Outcome:
        """Record what a helper ticked, an act for each day; it ends at the first day that cannot be recorded."""
        outcome = self._nothing("nothing_due", None)
        tanks: frozenset[str] = frozenset()
        for day, drafts in sorted(days.items()):
            outcome = self._write("ticks", drafts, day) if drafts else outcome
            tanks |= outcome.tanks
            if outcome.result not in ("recorded", "kept", "nothing_due"):
                break
        return replace(outcome, tanks=tanks, count=sum(bool(drafts) for drafts in days.values()))
