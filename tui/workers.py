"""What is worked out beside the round: all tanks' flags, the postings behind what was missed, the other screens.

A worker never touches a screen. It hands its result to the main thread, which drops it where a later start has replaced
that worker; what fails is said in one line.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from datetime import date, timedelta
from functools import partial
from importlib import import_module
from threading import Event, Thread
from time import sleep
from typing import Any, Final, TypeVar

from textual.app import App
from textual.worker import Worker, get_current_worker

from schedules.ledger import Posting
from schedules.review.flags import flags
from schedules.session.missed_rows import DAYS_BACK
from schedules.session.session import Session
from tui.acts import Place

Result = TypeVar("Result")
BREATH: Final = 0.003
"""Seconds between two tanks."""
PATIENCE: Final = 0.05
"""Seconds between two looks whether a worker that waits was cancelled."""
PART: Final = 48
"""Tanks whose flags are handed over at once, so that a screen that shows them early has few to work out itself."""
SCREENS: Final[Mapping[Place, str]] = {
    "prepare": "tui.screens.prepare:PrepareScreen",
    "lookback": "tui.screens.lookback:LookbackScreen",
    "missed": "tui.screens.missed:MissedScreen",
    "flags": "tui.screens.flags:FlagsScreen",
    "plan": "tui.screens.plan:PlanScreen",
    "room": "tui.screens.room:RoomScreen",
    "expected": "tui.screens.animals.expected:ExpectedScreen",
    "survival": "tui.screens.animals.survival:SurvivalScreen",
    "away": "tui.screens.away:AwayScreen",
    "lines": "tui.screens.animals.lines:LinesScreen",
    "stock": "tui.screens.stock.stock:StockScreen",
    "water": "tui.screens.water.overview:WaterScreen",
    "help": "tui.screens.help:HelpScreen",
}
"""Where each screen but the round is: loaded when first shown, or while nothing else is to be done."""


class Background:
    """Pure computations in a thread; what they come to is handed to the session on the screen's own thread."""

    def __init__(self, app: App[Any], session: Session, say: Callable[[str], None]) -> None:
        self._app = app
        self._session = session
        self._say = say
        self._start = 0
        self._failed_on: tuple[str, ...] = ()
        self.done = False
        """Whether the last start has ended."""

    @property
    def is_wanted(self) -> bool:
        """Whether flags are to be found and nobody is looking for them; what failed is not tried again by itself."""
        wanted = self._session.flags_to_find
        return self.done and bool(wanted) and wanted != self._failed_on

    def start(self) -> None:
        """Work out the flags that are not known, instead of any that still are, and load the other screens."""
        self.done = False
        self._start += 1
        work = partial(self._run, self._start)
        self._app.run_worker(work, thread=True, exclusive=True, group="flags", exit_on_error=False)

    def _run(self, start: int) -> None:
        worker = get_current_worker()
        try:
            self._work_out(start, worker)
        except Exception as error:  # whatever it is, it is shown; the round goes on without it
            self._hand_over(start, worker, self._fail, error)
        else:
            self._hand_over(start, worker, self._end)

    def _end(self) -> None:
        self.done = True

    def _fail(self, error: Exception) -> None:
        self._failed_on = self._session.flags_to_find
        self.done = True
        self._say(f"The flags could not be worked out: {fault_text(error)}")

    def _hand_over(self, start: int, worker: Worker[Any], take: Callable[..., None], *found: Any) -> None:
        """Have the main thread take something, and wait until it has, unless this worker is cancelled meanwhile."""
        taken = Event()

        def on_main_thread() -> None:
            if start == self._start and not worker.is_cancelled:
                take(*found)
            taken.set()

        if self._app.call_later(on_main_thread):
            while not worker.is_cancelled and not taken.wait(PATIENCE):
                pass

    def _work_out(self, start: int, worker: Worker[Any]) -> None:
        session = self._session
        room, history, now = session.room, session.history, session.clock()
        since = session.day - timedelta(days=DAYS_BACK)
        found = {}
        for tank in session.flags_to_find:
            if worker.is_cancelled:
                return
            found[tank] = flags(room.only(tank), history, now)
            # Keys come first: whoever presses one meanwhile does not wait for this.
            sleep(BREATH)
            if len(found) == PART:
                self._hand_over(start, worker, session.know_flags, room, history, found)
                found = {}
        self._hand_over(start, worker, session.know_flags, room, history, found)
        if not session.knows_postings(since):
            self._hand_over(start, worker, session.know_postings, history, since, self._postings(since))
            session.missed(since)  # looks through the postings once for all
        for name in SCREENS.values():
            import_module(name.split(":")[0])
            sleep(BREATH)

    def _postings(self, since: date) -> tuple[Posting, ...]:
        """The whole postings in force since a day, which what was missed is found by."""
        session, found = self._session, {}
        for number in range((session.day - since).days + 1):
            posting = session.ledger.posting(since + timedelta(days=number))
            if posting is not None:
                found[posting.start] = posting
            sleep(BREATH)
        return tuple(found.values())


def fault_text(error: Exception) -> str:
    """An unexpected error in one line."""
    return f"{type(error).__name__}: {error}".rstrip(": ")


def work_beside(
    app: App[Any], work: Callable[[], Result], take: Callable[[Result], None], fail: Callable[[Exception], None]
) -> None:
    """Do some work in a thread that no end of the program waits for, and hand what it comes to to the main thread."""

    def run() -> None:
        hand_over: Callable[[], None]
        try:
            hand_over = partial(take, work())
        except Exception as error:
            hand_over = partial(fail, error)
        with suppress(RuntimeError):  # the program has ended meanwhile
            app.call_later(hand_over)

    Thread(target=run, daemon=True).start()
