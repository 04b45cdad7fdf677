"""The days after today, planned by another process while today's round is walked."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO

Start = Callable[[datetime], "ComingDays"]
"""Starts the planning as of a moment."""


class ComingDays:
    """A process that opens the day with all its days, as any other command on the room would.

    It is a process and not a thread, as a thread would take turns with the keys; and it goes on to its end where the
    dashboard is closed meanwhile.
    """

    def __init__(self, command: Sequence[str]) -> None:
        self._told: IO[bytes] = TemporaryFile()  # noqa: SIM115 (read when the process has ended)
        self._process = subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=self._told,
            start_new_session=True,
        )

    def fault(self) -> str | None:
        """None while it runs; then what went wrong in one line, empty where nothing did."""
        code = self._process.poll()
        if code is None:
            return None
        if code == 0:
            return ""
        self._told.seek(0)
        lines = self._told.read().decode(errors="replace").split("\n")
        return next((line for line in reversed(lines) if line.strip()), f"the planner ended with {code}")


def by_command(room_file: Path, ledger: Path) -> Start:
    """How the dashboard has the coming days planned: by the command that prints the round."""

    def start(now: datetime) -> ComingDays:
        options = ["--now", now.isoformat(), "--ledger", str(ledger)]
        return ComingDays([sys.executable, "-m", "tui", "round", str(room_file), *options])

    return start
