"""How the program ends from outside: by a signal, or because its terminal is gone.

Either way the terminal is left as it was found, the ledger is closed and temporary folders are removed.
"""

from __future__ import annotations

import asyncio
import os
import select
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from time import sleep
from types import FrameType
from typing import Final

SIGNALS: Final = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGQUIT", "SIGHUP") if hasattr(signal, name))
"""The signals that ask a program to end; not all of them exist on every machine."""
FROM_SIGNAL: Final = 128
"""What a shell adds to a signal's number to make the exit code."""
LOOK_SECONDS: Final = 1.0
"""Between two looks whether the program that started this one is still there."""
GRACE_SECONDS: Final = 5.0
"""How long a program without a terminal may take to end by itself."""


@contextmanager
def ended_by_signals() -> Iterator[None]:
    """Within this, a signal that asks to end raises `SystemExit`, so that everything opened is closed.

    A signal that is ignored (SIGHUP under nohup) stays ignored.
    """
    before = {each: signal.getsignal(each) for each in SIGNALS}
    ours = [each for each, handler in before.items() if handler is not signal.SIG_IGN]
    for each in ours:
        signal.signal(each, _exit)
    try:
        yield
    finally:
        for each in ours:
            signal.signal(each, before[each])


def _exit(number: int, _frame: FrameType | None) -> None:
    sys.exit(FROM_SIGNAL + number)


def leave_with(code: int | None) -> None:
    """End the program with the code of a screen that was ended from outside; 0 and None go on."""
    if code:
        sys.exit(code)


def call_on_signals(leave: Callable[[int], None]) -> None:
    """Within a running event loop: call `leave` with the exit code when a signal asks to end or the terminal is gone.

    Does nothing outside the main thread and on machines without such signals.
    """
    if sys.platform == "win32" or threading.current_thread() is not threading.main_thread():
        return
    loop = asyncio.get_running_loop()
    for each in SIGNALS:
        if signal.getsignal(each) is not signal.SIG_IGN:
            loop.add_signal_handler(each, leave, FROM_SIGNAL + each)
    if not os.isatty(0):
        # Behind a page of a browser: the server is the terminal, and where it is gone nobody can see or type anything.
        args = (loop, leave, FROM_SIGNAL + signal.SIGHUP, os.getppid())
        threading.Thread(target=_wait_for_parent, args=args, name="parent", daemon=True).start()
    if os.isatty(0):
        gone = FROM_SIGNAL + signal.SIGHUP
        watch = threading.Thread(target=_wait_for_hangup, args=(loop, leave, gone), name="hangup", daemon=True)
        watch.start()


def _wait_for_parent(loop: asyncio.AbstractEventLoop, leave: Callable[[int], None], code: int, parent: int) -> None:
    """Wait until the program that started this one is gone, then end as without a terminal."""
    while os.getppid() == parent:
        sleep(LOOK_SECONDS)
    with suppress(RuntimeError):  # the loop has ended meanwhile
        loop.call_soon_threadsafe(leave, code)


def _wait_for_hangup(loop: asyncio.AbstractEventLoop, leave: Callable[[int], None], code: int) -> None:
    """Wait until the terminal is gone, then let the program end without one."""
    poll = select.poll()
    poll.register(0, 0)  # no event is asked for: only the hang-up itself wakes it
    if not any(state & (select.POLLHUP | select.POLLERR) for _, state in poll.poll()):
        return  # this machine cannot watch terminals in this way
    # What is still written while the program ends must not fail, and reading must not go round and round.
    null = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(null, stream)
    with suppress(RuntimeError):  # the loop has ended by itself
        loop.call_soon_threadsafe(leave, code)
    sleep(GRACE_SECONDS)
    os._exit(code)
