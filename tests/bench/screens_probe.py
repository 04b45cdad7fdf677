"""One run of a program in a real terminal: when its screen was complete, how long each key took, how much memory.

A moment counts when the screen has become what it then stays: what came is kept with its time, and played back
afterwards to find the first moment from which nothing on the screen changed any more. So no program is asked anything.
"""

from __future__ import annotations

import os
import select
import subprocess
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from tests.pty.terminal import KEYS, PATIENCE, Terminal

START_QUIET: Final = 1.0
KEY_QUIET: Final = 0.15
OPEN_QUIET: Final = 0.4
"""Seconds without a byte after which a screen is taken as settled."""
WIDTH, HEIGHT = 80, 24


class Probe(Terminal):
    """A terminal with a stopwatch; the watch starts with the process."""

    def __init__(self, words: Sequence[str], home: Path) -> None:
        self._began = time.monotonic()
        super().__init__(words, home, WIDTH, HEIGHT)

    def started(self, mark: str) -> float:
        """Seconds from the process's start to the first complete screen, which has `mark` on it."""
        return self._settled(self._began, START_QUIET, mark)

    def opened(self, key: str) -> float:
        """Seconds from a key to the screen that it leads to, however it comes together."""
        began = time.monotonic()
        os.write(self.child.child_fd, KEYS.get(key, key).encode())
        return self._settled(began, OPEN_QUIET, "")

    def repaints(self, keys: Sequence[str], apart: float = 0.0) -> list[float]:
        """The seconds of those of the keys that change anything: a list of one row has nowhere to go.

        Before each key so many seconds pass, for a key that counts once while it is held down.
        """
        found = []
        for key in keys:
            time.sleep(apart)
            began = time.monotonic()
            os.write(self.child.child_fd, KEYS.get(key, key).encode())
            if select.select([self.child.child_fd], [], [], START_QUIET)[0]:
                found.append(self._settled(began, KEY_QUIET, ""))
        return found

    def _settled(self, began: float, quiet: float, mark: str) -> float:
        shown: list[tuple[float, list[str]]] = []
        while not shown or mark not in self.text:
            for at, data in self._chunks(quiet, began + PATIENCE):
                self._stream.feed(data)
                shown.append((at, self.lines))
            if time.monotonic() > began + PATIENCE:
                raise AssertionError(f"no {mark or 'repaint'!r} within {PATIENCE:.0f} s; the screen says\n{self.text}")
        settled = shown[-1][0]
        for at, lines in reversed(shown):
            if lines != shown[-1][1]:
                break
            settled = at
        return settled - began

    def _chunks(self, quiet: float, end: float) -> list[tuple[float, bytes]]:
        """What comes until nothing came for a while, with the times it came at."""
        came: list[tuple[float, bytes]] = []
        while select.select([self.child.child_fd], [], [], quiet)[0] and time.monotonic() < end:
            try:
                data = os.read(self.child.child_fd, 1 << 16)
            except OSError:
                said = b"".join(data for _, data in came).decode(errors="replace")
                raise AssertionError(f"{self.child.args} ended, saying\n{said}") from None
            came.append((time.monotonic(), data))
        return came

    def peak_mb(self) -> float:
        """The most memory the process has held so far, in MB; where the system does not tell, what it holds now."""
        status = Path(f"/proc/{self.child.pid}/status")
        if status.exists():
            line = next(line for line in status.read_text("utf-8").splitlines() if line.startswith("VmHWM"))
            return int(line.split()[1]) / 1024
        words = ["ps", "-o", "rss=", "-p", str(self.child.pid)]
        return int(subprocess.run(words, capture_output=True, check=True).stdout) / 1024
