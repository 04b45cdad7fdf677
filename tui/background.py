"""What is done beside the round: the mixes, all tanks' flags, what the missed are told by, the other screens."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from importlib import import_module
from time import sleep
from typing import TYPE_CHECKING, Final

from textual.worker import get_current_worker

from schedules.flags import flags
from schedules.ledger import Posting
from tui.acts import Place
from tui.doses import Doses, mix_round
from tui.missing import DAYS_BACK

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
    """Pure computations in a thread; what they come to is handed to the desk on the screen's own thread."""

    def __init__(self, app: RackroundApp) -> None:
        self._app = app

    def start(self) -> None:
        """Work out mixes and flags of the desk's round, instead of any that are still being worked out."""
        self.mix()
        self.go_on()

    def mix(self) -> None:
        """Work out the mixes: soon enough for the first screen of a small room, on which they then need no second."""
        self._run(self._mix, "mixes")

    def go_on(self) -> None:
        """Work out the flags, and load the other screens."""
        self._run(self._flag, "flags")

    def _run(self, work: Callable[[], None], group: str) -> None:
        self._app.run_worker(work, thread=True, exclusive=True, group=group, exit_on_error=False)

    def _mix(self) -> None:
        worker = get_current_worker()
        desk = self._app.desk
        day, round_id = desk.day, desk.round
        doses = mix_round(desk.room, desk.history, day, round_id)
        if not worker.is_cancelled:
            self._app.call_from_thread(self._doses_known, doses, day, round_id)

    def _flag(self) -> None:
        worker = get_current_worker()
        desk = self._app.desk
        room, history, now, since = desk.room, desk.history, desk.clock(), desk.day - timedelta(days=DAYS_BACK)
        found = {}
        for tank in room.walk:
            if worker.is_cancelled:
                return
            found[tank] = flags(room.only(tank), history, now)
            # Keys come first: whoever presses one meanwhile does not wait for this.
            sleep(BREATH)
            if len(found) == PART:
                self._app.call_from_thread(desk.know_flags, room, history, found)
                found = {}
        self._app.call_from_thread(desk.know_flags, room, history, found)
        self._app.call_from_thread(desk.know_postings, history, since, self._postings(since))
        for name in SCREENS.values():
            import_module(name.split(":")[0])
            sleep(BREATH)

    def _postings(self, since: date) -> tuple[Posting, ...]:
        """The whole postings in force since a day, which the missed servings are told by."""
        desk, found = self._app.desk, {}
        for number in range((desk.day - since).days + 1):
            posting = desk.ledger.posting(since + timedelta(days=number))
            if posting is not None:
                found[posting.start] = posting
            sleep(BREATH)
        return tuple(found.values())

    def _doses_known(self, doses: Doses, day: object, round_id: str) -> None:
        desk = self._app.desk
        if (desk.day, desk.round) == (day, round_id):
            desk.doses = doses
            self._app.doses_known()
