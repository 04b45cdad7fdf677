"""Rooms and ledgers for the benchmark of the screens, each in a folder that runs are copied from."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final

from demo_racks import room_path
from demo_racks.fresh import fresh_text
from demo_racks.past import write_past
from schedules.room_file import load_room
from tests.bench.ledger_years import cycle_of, write_years

TODAY: Final = date(2026, 11, 25)
NOW: Final = "2026-11-25T07:10"
YESTERDAY: Final = "2026-11-24T07:10"
ROOMS: Final = {6: "first_rack", 48: "breeding_room", 240: "farm"}
PROGRAM: Final = (sys.executable, "-m", "tui")


@dataclass(frozen=True)
class Place:
    """A room with a past: how many tanks, what is special, where it lies, how many stops today's round has.

    `fresh` is a room whose plan for today is not posted yet: opening it once is all there is to measure. On a usual
    morning yesterday's plan is carried on; on the first of all, the month is planned from nothing.
    """

    tanks: int
    what: str
    folder: Path
    stops: int
    fresh: bool = False

    def copy(self, to: Path) -> tuple[str, ...]:
        """Copy it for one run; the words that open it there."""
        shutil.rmtree(to, ignore_errors=True)
        shutil.copytree(self.folder, to)
        return (*PROGRAM, str(to / "room.toml"), "--now", NOW)


def places(folder: Path, tanks: int) -> list[Place]:
    """For a room of so many tanks: today's plan posted already, not posted yet, and after a year of rounds."""
    unposted, posted, morning, year = (folder / f"{tanks}-{what}" for what in ("unposted", "posted", "morning", "year"))
    _write_room(unposted, tanks)
    write_past(load_room(unposted / "room.toml"), unposted / "room.ledger.db", TODAY)
    shutil.copytree(unposted, posted)
    stops = _stops(posted)
    shutil.copytree(unposted, morning)
    _opened(morning, YESTERDAY)
    found = [
        Place(tanks, "", posted, stops),
        Place(tanks, "first opening of the day", morning, _stops_of_copy(morning), fresh=True),
        Place(tanks, "first of all openings", unposted, stops, fresh=True),
    ]
    if tanks > 6:
        _write_room(year, tanks)
        write_years(year / "room.ledger.db", cycle_of(load_room(year / "room.toml")), 365)
        found.append(Place(tanks, "a year of ledger", year, _stops(year)))
    return found


def _write_room(folder: Path, tanks: int) -> None:
    folder.mkdir()
    text = room_path(ROOMS[tanks]).read_text("utf-8")
    (folder / "room.toml").write_text(fresh_text(text, TODAY), "utf-8")


def _stops_of_copy(folder: Path) -> int:
    """Today's stops of a room that is itself left as it is."""
    copy = folder.with_name(f"{folder.name}-counted")
    shutil.copytree(folder, copy)
    return _stops(copy)


def _stops(folder: Path) -> int:
    """Today's stops, as the program prints them, which also posts today's plan."""
    return len(json.loads(_opened(folder, NOW))["stops"])


def _opened(folder: Path, now: str) -> bytes:
    """What the program prints of the round at a moment, which also posts the plan of that day."""
    words = [*PROGRAM, "round", str(folder / "room.toml"), "--json", "--now", now]
    return subprocess.run(words, capture_output=True, check=True).stdout
