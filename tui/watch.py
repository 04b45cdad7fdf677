"""What the dashboard looks at now and then: unsaved marks, others' entries, the room file, the clock, the planner."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Final

from schedules.formatting import clock_text
from schedules.ledger import LedgerFault
from schedules.ledger.clock import clock_fault
from schedules.session.room_watch import RoomWatch
from schedules.wording.entries import marked_text
from tui.acts import key_text
from tui.plan_process import PlanProcess, Start
from tui.screens.dashboard import Dashboard
from tui.widgets.outcome_line import outcome_line

LOOK_SECONDS: Final = 1.5
"""How often to look whether somebody else wrote or the room file changed, and to try again what is unsaved."""
AGAIN_EVERY: Final = 3
"""At every third look what is unsaved is tried again: a locked ledger is waited for, and keys wait with it."""


class Watch:
    """Looks at everything that may change while the dashboard is open, and says what did."""

    def __init__(self, dashboard: Dashboard, room_watch: RoomWatch, plan: Start | None, refresh: Callable[[], None]):
        self._dashboard = dashboard
        self._room_watch = room_watch
        self._start_planning = plan
        self._plan: PlanProcess | None = None
        self._refresh = refresh
        self._looks = 0
        self._offset = self._zone_offset()
        self._clock_fault = self._odd_clock()
        self._new_day = False

    @property
    def notices(self) -> tuple[str, ...]:
        """What stays true until the keeper does something about it, in a few words each."""
        clock = ("CHECK THE CLOCK",) if self._clock_fault else ()
        room = (f"new room file: {self._key('reread')}",) if self._room_watch.waits else ()
        return clock + room

    def begin(self) -> None:
        """Say what is odd from the start."""
        if self._clock_fault:
            self._dashboard.say(self._clock_fault)

    def look(self) -> None:
        """Save what is unsaved, show what others wrote, report a changed room file; each screen keeps its place."""
        self._looks += 1
        self._look_at_ledger()
        if self._looks == 1:
            self.plan_coming_days()
        self._look_at_plan()
        if self._room_watch.changed():
            self._dashboard.say(f"The room file was changed: {self._key('reread')} shows what that changes")
            self._refresh()
        self._look_at_clock()

    def plan_coming_days(self) -> None:
        """Have the days after today planned beside the round, where today alone was."""
        session = self._dashboard.session
        if self._start_planning is None or self._plan is not None or session.knows_coming_days:
            return
        self._plan = self._start_planning(session.clock())
        self._dashboard.say("Today's round is ready; the coming weeks are being planned meanwhile")

    def day_opened(self) -> None:
        """A new day's round was opened: look at the clock again."""
        self._clock_fault = self._odd_clock()
        self._new_day = False
        self.begin()

    def _key(self, act: str) -> str:
        return key_text(self._dashboard.key_of(act))

    def _look_at_ledger(self) -> None:
        session = self._dashboard.session
        try:
            saved = session.save_again() if self._looks % AGAIN_EVERY == 0 else None
            if saved is not None:
                self._dashboard.caught_up(saved.tanks, outcome_line(session, saved))
            elif session.ledger.changed():
                self._dashboard.caught_up(session.catch_up(), self._news())
        except LedgerFault as fault:
            waits = f"{len(session.unsaved)} NOT SAVED YET, tried again every few seconds. " if session.unsaved else ""
            self._dashboard.say(f"{waits}{fault}")

    def _news(self) -> str:
        """What somebody else did, in one line."""
        session = self._dashboard.session
        news = [f"{entry.by or 'the program'}: {marked_text(session.room, entry)}" for entry in session.news[-1:]]
        more = len(session.news) - 1
        return "".join(news) + (f", and {more} more" if more > 0 else "")

    def _look_at_plan(self) -> None:
        """Say when the coming days are planned, or why they could not be: the next start tries again."""
        fault = None if self._plan is None else self._plan.fault()
        if fault is None:
            return
        self._plan = None
        self._dashboard.say(
            f"The coming weeks could not be planned: {fault}" if fault else "The coming weeks are planned"
        )

    def _look_at_clock(self) -> None:
        """Say when the day turns and when the clocks change between summer and winter time."""
        session, offset = self._dashboard.session, self._zone_offset()
        if offset != self._offset:
            forward = offset > self._offset
            self._offset = offset
            now = clock_text(session.clock(), session.room.zone)
            self._dashboard.say(f"The clocks went {'forward' if forward else 'back'}: it is now {now} here")
        if session.new_day and not self._new_day:
            self._new_day = True
            self._dashboard.say(f"A new day has begun; {self._key('show_round')} opens its round")
            self._refresh()

    def _zone_offset(self) -> timedelta:
        session = self._dashboard.session
        return session.clock().astimezone(session.room.zone).utcoffset() or timedelta()

    def _odd_clock(self) -> str | None:
        session = self._dashboard.session
        try:
            return clock_fault(session.ledger.last_at(), session.clock())
        except LedgerFault:
            return None  # said where the ledger is read next
