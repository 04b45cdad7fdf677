"""One script of acts through different doors: the session and the command line. What each leaves is its export."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Mapping, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from io import StringIO
from pathlib import Path
from typing import Final

from schedules.ledger import Leftovers, Response
from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room_file import load_room
from schedules.session.session import Session
from tests.cli.conftest import ROOM
from tui.cli.main import run

START: Final = datetime(2026, 11, 25, 6, 30, tzinfo=UTC)
TANKS: Final = ("a1", "a2")
FEEDS: Final = ("dust", "flake")
KEEPERS: Final = ("Mara", "Ole")


@dataclass(frozen=True)
class Step:
    """One act of a keeper, a minute after the one before."""

    by: str


@dataclass(frozen=True)
class Give(Step):
    tank: str
    feed: str
    amount: float | None
    anyway: bool
    days_ago: int


@dataclass(frozen=True)
class Skip(Step):
    tank: str
    feed: str
    because: str


@dataclass(frozen=True)
class Look(Step):
    tank: str
    feed: str
    leftovers: Leftovers


@dataclass(frozen=True)
class Come(Step):
    tank: str
    feed: str
    response: Response


@dataclass(frozen=True)
class Note(Step):
    tank: str
    text: str


@dataclass(frozen=True)
class Undo(Step):
    pass


Script = Sequence[Step]
Door = Callable[[Script, Path], None]
"""Does the acts of a script on the room and ledger in a folder."""


def opened_room(folder: Path) -> Path:
    """A folder with the room and a ledger in which today's plan is posted."""
    folder.mkdir(parents=True, exist_ok=True)
    room_file = folder / "room.toml"
    room_file.write_text(ROOM, encoding="utf-8")
    ledger = open_ledger(room_file.with_suffix(".ledger.db"))
    Session(load_room(room_file), ledger, lambda: START, "Mara", posts="today")
    ledger.close()
    return folder


def left_by(door: Door, script: Script, opened: Path, folder: Path) -> list[str]:
    """The lines of the ledger that a door leaves after a script, begun from a copy of an opened room."""
    shutil.copytree(opened, folder)
    door(script, folder)
    ledger = open_ledger(folder / "room.ledger.db")
    lines = list(export_lines(ledger))
    ledger.close()
    return lines


def by_session(script: Script, folder: Path) -> None:
    """Through one session for each keeper, open from the first act to the last."""
    now = START
    ledger = open_ledger(folder / "room.ledger.db")
    room = load_room(folder / "room.toml")
    sessions = {keeper: Session(room, ledger, lambda: now, keeper, posts="today") for keeper in KEEPERS}
    for number, step in enumerate(script):
        now = START + timedelta(minutes=number)
        session = sessions[step.by]
        session.catch_up()
        _done_in(session, step)
    ledger.close()


def _done_in(session: Session, step: Step) -> None:
    match step:
        case Give():
            day = session.day - timedelta(days=step.days_ago)
            session.give(step.tank, step.feed, step.amount, day=day, anyway=step.anyway)
        case Skip():
            session.skip(step.tank, [step.feed], step.because)
        case Look():
            session.observe(step.tank, step.feed, step.leftovers)
        case Come():
            session.came(step.tank, step.feed, step.response)
        case Note():
            session.note(step.tank, step.text)
        case Undo():
            session.undo()


def by_command_line(script: Script, folder: Path) -> None:
    """Through the command line, each act a run of its own."""
    for number, step in enumerate(script):
        name, *words = _words(step)
        now = (START + timedelta(minutes=number)).isoformat()
        with redirect_stdout(StringIO()), redirect_stderr(StringIO()):
            run([name, str(folder / "room.toml"), *words, "--now", now, "--by", step.by])


def _words(step: Step) -> list[str]:
    match step:
        case Give():
            day = (START - timedelta(days=step.days_ago)).date().isoformat()
            amount = [] if step.amount is None else ["--amount", str(step.amount)]
            return ["give", step.tank, step.feed, "--on", day, *amount, *(["--anyway"] if step.anyway else [])]
        case Skip():
            return ["skip", step.tank, step.feed, f"--because={step.because}"]
        case Look():
            return ["leftovers", step.tank, step.feed, step.leftovers]
        case Come():
            return ["came", step.tank, step.feed, step.response]
        case Note():
            return ["note", "--", step.tank, step.text] if step.text.startswith("-") else ["note", step.tank, step.text]
    return ["undo"]


DOORS: Final[Mapping[str, Door]] = {"session": by_session, "command line": by_command_line}
