"""The acts about days away: a leave plan accepted or ended, a helper's ticks entered."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from schedules.history.leave import MOST_LEAVE_DAYS
from schedules.ledger import Away, Back
from schedules.session.acts.writing import Writing
from schedules.session.outcome import Outcome

if TYPE_CHECKING:
    from schedules.leave import LeavePlan
    from schedules.leave.ticks import HelperSheet, Place, Tick


class LeaveActs(Writing):
    """A round from which the keeper can go away and come back."""

    def accept_leave(self, helper: str, plan: LeavePlan) -> Outcome:
        """Let a leave plan hold on its days; on days that an earlier one covers too, this one holds from now on."""
        return replace(self._write("leave", [Away(helper, plan.posting)], plan.first), undoable=False)

    def end_leave(self, day: date) -> Outcome:
        """Let what was posted hold again from a day on (today or later); days before it stay as they are."""
        return replace(self._write("end_leave", [Back()], day), undoable=False)

    def helper_sheet(self, first: date | None = None, last: date | None = None) -> HelperSheet | None:
        """What is open on the newest helper's sheet, or on that of some days; None where there is none."""
        # Imported here and not above: with it comes what plans, which a round that is only walked does without.
        from schedules.leave.ticks import helper_sheet

        since = min(first or self.day, self.day - timedelta(days=MOST_LEAVE_DAYS))
        return helper_sheet(self.room, self.reaching(since), self.day, first, last)

    def enter_ticks(self, sheet: HelperSheet, ticks: Mapping[Place, Tick], by: str | None = None) -> Outcome:
        """Record what was ticked for visits of a sheet, as the helper's, an act for each day.

        It ends at the first day that cannot be recorded. `count` of the outcome is how many days were.
        """
        from schedules.leave.ticks import CLOUDY_LOOKS_BACK, entries_of

        visits = {place: due for place, due in sheet.visits.items() if place in ticks}
        history = self.reaching(min(sheet.first, self.day) - timedelta(days=CLOUDY_LOOKS_BACK))
        days = entries_of(history, visits, ticks)
        outcome, count, tanks = self._nothing("nothing_due", None), 0, frozenset[str]()
        with self._acting_as(by or sheet.helper):
            for day, drafts in sorted(days.items()):
                outcome = self._write("ticks", drafts, day)
                tanks |= outcome.tanks
                if outcome.result not in ("recorded", "kept"):
                    break
                count += 1
        return replace(outcome, tanks=tanks, count=count, undoable=False)

    @contextmanager
    def _acting_as(self, by: str) -> Iterator[None]:
        keeper, self.by = self.by, by
        try:
            yield
        finally:
            self.by = keeper
