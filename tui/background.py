"""What is worked out beside the round while it is already on the screen: the mixes, then the flags of all tanks."""

from __future__ import annotations

from time import sleep
from typing import TYPE_CHECKING, Final

from schedules.flags import flags

if TYPE_CHECKING:
    from tui.app import RackroundApp
    from tui.doses import Doses


BREATH: Final = 0.003
"""Seconds between two tanks."""


class Background:
    """Two pure computations in a thread; what they come to is handed to the desk on the screen's own thread."""

    def __init__(self, app: RackroundApp) -> None:
        self._app = app

    def start(self) -> None:
        """Work out mixes and flags of the desk's round, instead of any that are still being worked out."""
        self._app.run_worker(self._work, thread=True, exclusive=True, group="beside", exit_on_error=False)

    def _work(self) -> None:
        from tui.doses import mix_round

        desk = self._app.desk
        room, history, day, round_id, now = desk.room, desk.history, desk.day, desk.round, desk.clock()
        doses = mix_round(room, history, day, round_id)
        self._app.call_from_thread(self._doses_known, doses, day, round_id)
        found = {}
        for tank in room.walk:
            found[tank] = flags(room.only(tank), history, now)
            # Keys come first: whoever presses one meanwhile does not wait for this.
            sleep(BREATH)
        self._app.call_from_thread(desk.know_flags, history, found)

    def _doses_known(self, doses: Doses, day: object, round_id: str) -> None:
        desk = self._app.desk
        if (desk.day, desk.round) == (day, round_id):
            desk.doses = doses
            self._app.doses_known()
