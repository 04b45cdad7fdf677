"""Rooms and ledgers for the benchmark of the screens, each in a folder that runs are copied from."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Final

from schedules.ledger.stores.sqlite import open_ledger
from schedules.room import Room
from schedules.room_file import load_room
from schedules.session.missed_rows import missed_rows
from schedules.session.session import Session
from tests.bench.ledger_years import TODAY, cycle_of, write_years
from tests.bench.screens_rooms import room_text

PROGRAM: Final = (sys.executable, "-P", "-m", "tui")
MONTH: Final = 30
YEAR: Final = 365
SHORT, LONG, MORNING, FIRST = "a month of ledger", "a year of ledger", "first opening of the day", "first of all"


@dataclass(frozen=True)
class Place:
    """A room with a past: how many tanks, what is special, where it lies, the day it is opened, how many rows to show.

    `fresh` is a room whose plan for the day is not posted yet: opening it is all there is to measure. On a usual
    morning yesterday's plan is carried on; on the first of all, the month is planned from nothing.
    """

    tanks: int
    what: str
    folder: Path
    rows: Mapping[str, int] = field(default_factory=dict)
    day: date = TODAY
    fresh: bool = False

    def copy(self, to: Path) -> tuple[str, ...]:
        """Copy it for one run; the words that open it there."""
        shutil.rmtree(to, ignore_errors=True)
        shutil.copytree(self.folder, to)
        return (*PROGRAM, str(to / "room.toml"), "--now", f"{self.day.isoformat()}T07:10")


def places(folder: Path, tanks: int, marks: int) -> list[Place]:
    """For a room of so many tanks: the same day after a month and after a year of rounds, and with no plan for it yet.

    `marks` is how many stops a run marks before it looks at the other screens.
    """
    short, year, first = (folder / f"{tanks}-{what}" for what in ("month", "year", "first"))
    for each in (short, year, first):
        each.mkdir()
        (each / "room.toml").write_text(room_text(tanks, TODAY), "utf-8")
    room = load_room(short / "room.toml")
    cycle = cycle_of(room)
    write_years(short / "room.ledger.db", cycle, MONTH)
    write_years(year / "room.ledger.db", cycle, YEAR)
    rows = _rows(room, short, marks)
    return [
        Place(tanks, SHORT, short, rows),
        Place(tanks, LONG, year, rows),
        Place(tanks, MORNING, short, rows, day=TODAY + timedelta(days=1), fresh=True),
        Place(tanks, FIRST, first, rows, fresh=True),
    ]


def _rows(room: Room, folder: Path, marks: int) -> dict[str, int]:
    """How many rows each screen has today, once so many stops are marked."""
    now = datetime(TODAY.year, TODAY.month, TODAY.day, 7, 10, tzinfo=UTC)
    with closing(open_ledger(folder / "room.ledger.db")) as ledger:
        session = Session(room, ledger, lambda: now, "")
        missed = missed_rows(room, session.history, session.missed(TODAY - timedelta(days=7)), ())
        stops = session.sheet.stops
        return {
            "round": len(stops),
            "lookback": sum(len(stop.servings) for stop in stops[:marks]),
            "missed": len(missed),
            "flags": len(session.flags()),
            "plan": len(room.tanks),
            "room": len(room.tanks),
        }
