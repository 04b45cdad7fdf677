"""Random words on the command line: each command ends with 0, 2 or 3 and a text that steers no terminal."""

from __future__ import annotations

import contextlib
import io
import os
import shutil
import sys
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory, mkdtemp
from typing import Final

from tests.tui.rooms import make_session, room_text
from tui.cli.main import COMMANDS, run
from tui.cli.out import STEERING

OPENS: Final = frozenset(("open", "demo", "first"))
"""Commands that open the dashboard, or make the large room for it."""


def _each(text: str) -> list[str]:
    return text.split()


OPTIONS: Final = _each(
    "--now --ledger --keys --by --json --version --help --start --days --problem --on --round --since --amount "
    "--anyway --because --feed --heads --about --stage --to --source --line --grade --year --yes --by-what"
)
PLAIN: Final = _each(
    "a1 a2 b1 q1 dust flake bug leaf morning evening hatch dead moved count fast some none verify export"
)
ODD: Final = (
    "",
    "-",
    "--",
    "-1",
    "0",
    "1,5",
    "1e308",
    "nan",
    "9" * 400,
    "0001-01-01",
    "0001-01-01T00:00",
    "9999-12-31",
    "9999-12-31T23:59:59",
    "2026-02-29",
    "2026-11-25",
    "2026-11-25T07:10+23:59",
    "2026-11-28T02:30",
    "\x1b[2J",
    "\u202eabc",
    "水槽",
    "[bold]x[/]",
    "/dev/null",
    "/dev/full",
    "/",
    "NOWHERE/room.toml",
    "FOLDER",
    "FOLDER/new.toml",
    "FOLDER/copy.db",
    "FOLDER/room.ledger.db",
    "x" * 5000,
    "\udcff",
)


@cache
def beginning() -> Path:
    """A folder with a room and its ledger, copied for every run."""
    folder = Path(mkdtemp(prefix="rackround-words-"))
    (folder / "room.toml").write_text(room_text(), encoding="utf-8")
    make_session(folder).ledger.close()
    return folder


def lines(seed: int) -> Iterator[list[str]]:
    """Command lines without end; FOLDER stands for the room's folder."""
    chance = Random(seed)
    commands = sorted(set(COMMANDS) - OPENS)
    while True:
        words = [chance.choice(commands)]
        if chance.random() < 0.9:
            words.append("FOLDER/room.toml")
        for _ in range(chance.randrange(7)):
            words.append(
                chance.choice((chance.choice(OPTIONS), chance.choice(PLAIN), chance.choice(PLAIN), chance.choice(ODD)))
            )
        if chance.random() < 0.2:
            chance.shuffle(words)
        if chance.random() < 0.7:
            words += ["--now", "2026-11-25T07:10"]
        if not _would_open(words):
            yield words


def _would_open(words: Sequence[str]) -> bool:
    """Whether the dashboard could be opened: a path named before any command, or in place of one."""
    first = next((word for word in words if not word.startswith("-")), "")
    return first not in COMMANDS or first in OPENS


def fault_of(words: Sequence[str]) -> str | None:
    """What is wrong with how a command line is taken."""
    with TemporaryDirectory() as name, contextlib.chdir(name):
        folder = Path(name) / "room"
        shutil.copytree(beginning(), folder)
        given = [word.replace("FOLDER", str(folder)) for word in words]
        out, err, nothing = io.StringIO(), io.StringIO(), io.StringIO()
        before, sys.stdin = sys.stdin, nothing
        try:
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                code = run(given)
        finally:
            sys.stdin = before
        return _fault_in(code, out.getvalue(), err.getvalue())


def _fault_in(code: int, out: str, err: str) -> str | None:
    if code not in (0, 2, 3):
        return f"exit code {code}"
    steering = STEERING.search((out + err).replace("\n", ""))
    if steering is not None:
        return f"steers the terminal by {steering[0]!r}"
    if code != 0 and not err.strip():
        return f"exit code {code} without a word"
    return "a traceback" if "Traceback" in err else None


os.environ.setdefault("XDG_CACHE_HOME", mkdtemp(prefix="rackround-cache-"))
