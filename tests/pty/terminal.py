"""A terminal of so many cells with a program in it: press keys, wait for what the screen says, kill it."""

from __future__ import annotations

import os
import re
import signal
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from types import TracebackType
from typing import Final, Self

import pexpect
import pyte

PATIENCE: Final = 40.0
"""Seconds after which a text that has not come is taken as never coming; generous, since machines are busy."""
PACE: Final = 0.35
"""Seconds between two presses of one key by hand; what comes faster is a key held down."""
KEYS: Final = {
    "space": " ",
    "enter": "\r",
    "escape": "\x1b",
    "up": "\x1b[A",
    "down": "\x1b[B",
    "right": "\x1b[C",
    "left": "\x1b[D",
    "f1": "\x1bOP",
}
"""What a terminal sends for keys that are no letters."""


def installed() -> str:
    """The program as it was installed, beside the Python that runs the tests."""
    return str(Path(sys.executable).with_name("rackround"))


def environment(home: Path) -> dict[str, str]:
    """The environment without what would change colours or keys; caches and preferences are looked for in `home`."""
    kept = {name: each for name, each in os.environ.items() if not name.startswith(("TEXTUAL", "NO_COLOR", "COLUMNS"))}
    own = {name: str(home) for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME")}
    return kept | own | {"TERM": "xterm-256color", "COLORTERM": "truecolor", "LANG": "C.UTF-8"}


class Terminal:
    """A running program and its screen. `presses` counts the keys since the start."""

    def __init__(self, words: Sequence[str], home: Path, width: int = 80, height: int = 24) -> None:
        self.screen = pyte.Screen(width, height)
        self._stream = pyte.ByteStream(self.screen)
        self.child: pexpect.spawn[bytes] = pexpect.spawn(
            words[0], list(words[1:]), dimensions=(height, width), env=environment(home), timeout=None
        )
        self.child.delaybeforesend = None
        self.presses = 0
        self._last_key = ""
        self._pressed_at = 0.0

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.child.close(force=True)

    @property
    def lines(self) -> list[str]:
        """The screen, line by line, without the blanks at the ends."""
        return [line.rstrip() for line in self.screen.display]

    @property
    def text(self) -> str:
        """The whole screen."""
        return "\n".join(self.lines)

    def read(self, seconds: float) -> bytes:
        """What the program writes within so many seconds, taken into the screen; empty where there is nothing."""
        try:
            data: bytes = self.child.read_nonblocking(65536, timeout=seconds)
        except pexpect.TIMEOUT:
            return b""
        self._stream.feed(data)
        return data

    def press(self, *keys: str) -> None:
        """Press keys at a hand's pace, named as in `KEYS`, or else as the letter they are."""
        for key in keys:
            while key == self._last_key and time.monotonic() < self._pressed_at + PACE:
                self.read(0.02)
            self.child.send(KEYS.get(key, key))
            self._last_key, self._pressed_at = key, time.monotonic()
            self.presses += 1

    def until(self, holds: Callable[[], bool], wish: str) -> None:
        """Read until something holds; where it never does, fail with the screen as it stands."""
        end = time.monotonic() + PATIENCE
        while not holds():
            if time.monotonic() > end:
                raise AssertionError(f"never came: {wish}; the screen says\n{self.text}")
            try:
                self.read(0.05)
            except pexpect.EOF:
                if not holds():
                    raise AssertionError(f"the program ended before: {wish}; the screen says\n{self.text}") from None

    def shows(self, *texts: str) -> None:
        """Wait until all these texts are on the screen."""
        self.until(lambda: all(text in self.text for text in texts), f"{texts}")

    def lacks(self, text: str) -> None:
        """Wait until a text is no longer on the screen."""
        self.until(lambda: text not in self.text, f"the end of {text!r}")

    def find(self, pattern: str) -> re.Match[str]:
        """Wait until a pattern is on the screen, and return what matched."""
        self.until(lambda: re.search(pattern, self.text) is not None, pattern)
        found = re.search(pattern, self.text)
        assert found is not None
        return found

    def kill(self) -> None:
        """End the program at once, with no chance to tidy up."""
        self.child.kill(signal.SIGKILL)
        self.child.wait()

    def ended(self) -> int:
        """Wait for the program's own end and return its exit code."""
        try:
            self.until(lambda: not self.child.isalive(), "the program's end")
        except pexpect.EOF:
            self.child.wait()
        code = self.child.exitstatus
        assert isinstance(code, int)
        return code
