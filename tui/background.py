"""What is done beside the round while it is already on the screen: the mixes, all tanks' flags, the other screens."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from time import sleep
from typing import TYPE_CHECKING, Final

from textual.worker import get_current_worker

from schedules.flags import flags
from tui.acts import Place

if TYPE_CHECKING:
    from tui.app import RackroundApp
    from tui.doses import Doses

BREATH: Final = 0.003
"""Seconds between two tanks."""
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
        self._app.run_worker(self._work, thread=True, exclusive=True, group="beside", exit_on_error=False)

    def _work(self) -> None:
        from tui.doses import mix_round

        worker = get_current_worker()
        desk = self._app.desk
        room, history, day, round_id, now = desk.room, desk.history, desk.day, desk.round, desk.clock()
        doses = mix_round(room, history, day, round_id)
        if worker.is_cancelled:
            return
        self._app.call_from_thread(self._doses_known, doses, day, round_id)
        found = {}
        for tank in room.walk:
            if worker.is_cancelled:
                return
            found[tank] = flags(room.only(tank), history, now)
            # Keys come first: whoever presses one meanwhile does not wait for this.
            sleep(BREATH)
        self._app.call_from_thread(desk.know_flags, history, found)
        for name in SCREENS.values():
            import_module(name.split(":")[0])
            sleep(BREATH)

    def _doses_known(self, doses: Doses, day: object, round_id: str) -> None:
        desk = self._app.desk
        if (desk.day, desk.round) == (day, round_id):
            desk.doses = doses
            self._app.doses_known()
