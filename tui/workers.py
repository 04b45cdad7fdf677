"""What is done beside the round: all tanks' flags, the postings behind what was missed, the other screens."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from importlib import import_module
from time import sleep
from typing import TYPE_CHECKING, Final

from textual.worker import Worker, get_current_worker

from schedules.ledger import Posting
from schedules.review.flags import flags
from schedules.session.missed_rows import DAYS_BACK
from tui.acts import Place

if TYPE_CHECKING:
    from tui.app import RackroundApp

BREATH: Final = 0.003
"""Seconds between two tanks."""
PART: Final = 48
"""Tanks whose flags are handed over at once, so that a screen that shows them early has few to work out itself."""
SCREENS: Final[Mapping[Place, str]] = {
    "prepare": "tui.screens.prepare:PrepareScreen",
    "lookback": "tui.screens.lookback:LookbackScreen",
    "missed": "tui.screens.missed:MissedScreen",
    "flags": "tui.screens.flags:FlagsScreen",
    "plan": "tui.screens.plan:PlanScreen",
    "room": "tui.screens.room:RoomScreen",
    "help": "tui.screens.help:HelpScreen",
}
"""Where each screen but the round is: loaded when first shown, or while nothing else is to be done."""


class Background:
    """Pure computations in a thread; what they come to is handed to the session on the screen's own thread."""

    def __init__(self, app: RackroundApp) -> None:
        self._app = app
        self.done = False
        """Whether all of it is worked out, as of the last start."""

    def start(self) -> None:
        """Work out the flags that are not known, instead of any that still are, and load the other screens."""
        self.done = False
        self._app.run_worker(self._flag, thread=True, exclusive=True, group="flags", exit_on_error=False)

    def _flag(self) -> None:
        worker = get_current_worker()
        try:
            self._work_out(worker)
        finally:
            self.done = not worker.is_cancelled

    def _work_out(self, worker: Worker[object]) -> None:
        session = self._app.session
        room, history, now, since = (
            session.room,
            session.history,
            session.clock(),
            session.day - timedelta(days=DAYS_BACK),
        )
        found = {}
        for tank in session.flags_to_find:
            if worker.is_cancelled:
                return
            found[tank] = flags(room.only(tank), history, now)
            # Keys come first: whoever presses one meanwhile does not wait for this.
            sleep(BREATH)
            if len(found) == PART:
                self._app.call_from_thread(session.know_flags, room, history, found)
                found = {}
        self._app.call_from_thread(session.know_flags, room, history, found)
        if not session.knows_postings(since):
            self._app.call_from_thread(session.know_postings, history, since, self._postings(since))
            session.missed(since)  # looks through the postings once for all
        for name in SCREENS.values():
            import_module(name.split(":")[0])
            sleep(BREATH)

    def _postings(self, since: date) -> tuple[Posting, ...]:
        """The whole postings in force since a day, which what was missed is found by."""
        session, found = self._app.session, {}
        for number in range((session.day - since).days + 1):
            posting = session.ledger.posting(since + timedelta(days=number))
            if posting is not None:
                found[posting.start] = posting
            sleep(BREATH)
        return tuple(found.values())
