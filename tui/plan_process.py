"""The days after today, planned by another process while today's round is walked."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO, Final
from urllib.parse import unquote

import tui
from schedules.room.place import Place, Server, secrets_of

PROGRAM: Final = Path(tui.__file__).resolve().parents[1]
"""The folder that holds the packages of the running program: another process runs these and no others."""


class PlanProcess:
    """A process that opens the day with all its days, as any other command on the room would.

    It is a process and not a thread, because a thread would take turns with the keys. It runs on to its end where the
    dashboard is closed meanwhile.
    """

    def __init__(self, command: Sequence[str], password: str | None = None) -> None:
        self._said: IO[bytes] = TemporaryFile()  # noqa: SIM115 (read when the process has ended)
        self._process = subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=self._said,
            cwd=PROGRAM.anchor,
            env=environment(os.environ) | ({} if password is None else {"PGPASSWORD": password}),
            start_new_session=True,
        )

    def fault(self) -> str | None:
        """None while it runs; then what went wrong in one line, empty where nothing did."""
        code = self._process.poll()
        if code is None:
            return None
        if code == 0:
            return ""
        self._said.seek(0)
        lines = self._said.read().decode(errors="replace").split("\n")
        return next((line for line in reversed(lines) if line.strip()), f"the planner ended with {code}")


Start = Callable[[datetime], PlanProcess]
"""Starts the planning as of a moment."""


def environment(outer: Mapping[str, str]) -> dict[str, str]:
    """An environment in which Python finds the running program's packages first, and none in the current folder."""
    others = [each for each in outer.get("PYTHONPATH", "").split(os.pathsep) if each]
    paths = [str(PROGRAM), *(str(Path(each).absolute()) for each in others)]
    return {**outer, "PYTHONPATH": os.pathsep.join(paths)}


def by_command(room_file: Path, ledger: Place) -> Start:
    """How the dashboard has the coming days planned: by the command that prints the round.

    What other programs could read on its command line shows no password: that is handed over in its environment.
    """
    place = str(ledger) if isinstance(ledger, Server) else str(ledger.absolute())
    files = [str(room_file.absolute()), "--ledger", place]
    secrets = secrets_of(ledger.address) if isinstance(ledger, Server) else ()
    password = unquote(secrets[0]) if secrets else None

    def start(now: datetime) -> PlanProcess:
        # -P: the current folder may hold a package of the same name, which would be run instead.
        return PlanProcess([sys.executable, "-P", "-m", "tui", "round", *files, "--now", now.isoformat()], password)

    return start
