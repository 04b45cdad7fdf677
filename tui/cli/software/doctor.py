"""`rackround doctor`: what is installed, where things lie, and whether the room file and its ledger are sound."""

from __future__ import annotations

import locale
import os
import platform
import re
import shutil
import sys
from argparse import Namespace
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from importlib.metadata import PackageNotFoundError, requires, version
from pathlib import Path
from typing import Final, Literal

from schedules.ledger import LedgerFault
from schedules.ledger.clock import clock_fault
from schedules.ledger.copies.verify import oddities, verify
from schedules.ledger.stores.opening import open_at
from schedules.room.place import Place
from schedules.room_file import RoomFileFaults, load_room
from schedules.room_file.diagnosis.warnings import warnings_of
from tui.cli.fault import FAULT, OK
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import ledger_place, moment
from tui.kept_room import cache_path
from tui.preferences import PreferencesFaults, load_preferences, preferences_path

FORMAT: Final = "rackround-doctor/1"
EXTRAS: Final = {
    "paper": "sheets, labels, calendars",
    "browser": "the dashboard in a browser",
    "shared": "a ledger in PostgreSQL",
}
"""What the extras are for."""
LEAST_FREE_MB: Final = 100
"""Of disk beside the ledger; below this a year of entries and a copy may not fit. Common practice, no source."""
MARKS: Final = {"good": "ok", "look": "look", "fault": "FAULT"}


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at: what, how it is, and what was found in words."""

    about: str
    state: Literal["good", "look", "fault"]
    found: str


def examine(options: Options, asked: Namespace) -> int:
    """Look at the installation, and at a room and its ledger where one is named; code 2 where something is at fault."""
    found = [*installation(), *places(options, asked.room is not None)]
    if asked.room is not None:
        found += [*room_findings(options), *ledger_findings(options)]
    if asked.json:
        say_json({"format": FORMAT, "findings": [asdict(each) for each in found]})
    else:
        for each in found:
            say(f"{MARKS[each.state]:5}  {each.about}: {each.found}")
    return FAULT if any(each.state == "fault" for each in found) else OK


def installation() -> Iterator[Finding]:
    """The program, Python, the packages it needs, its extras, the terminal."""
    yield Finding("rackround", "good", f"{_version('rackround') or 'from its folder'}, {Path(__file__).parents[3]}")
    yield Finding("Python", "good", f"{platform.python_version()}, {sys.executable}")
    needed, extras = _requirements()
    for name in needed:
        found = _version(name)
        yield Finding(name, "good" if found else "fault", found or "missing; install the program again")
    for extra, purpose in EXTRAS.items():
        missing = [name for name in extras.get(extra, []) if _version(name) is None]
        hint = f'not installed, for {purpose}: pip install "rackround[{extra}]"' if missing else f"installed: {purpose}"
        yield Finding(f"extra {extra}", "good", hint)
    yield _terminal()


def _requirements() -> tuple[list[str], dict[str, list[str]]]:
    """Names of the packages that are always needed, and those of each extra."""
    needed: list[str] = []
    extras: dict[str, list[str]] = {}
    try:
        lines = requires("rackround") or []
    except PackageNotFoundError:  # run from its folder, never installed
        lines = []
    for line in lines:
        name = re.split(r"[^A-Za-z0-9._-]", line, maxsplit=1)[0]
        extra = re.search(r"extra == [\"']([^\"']+)", line)
        (extras.setdefault(extra[1], []) if extra else needed).append(name)
    return needed, extras


def _version(name: str) -> str | None:
    try:
        return version(name)
    except PackageNotFoundError:
        return None


def _terminal() -> Finding:
    size = shutil.get_terminal_size()
    encoding = locale.getpreferredencoding(False)
    text = f"{os.environ.get('TERM', 'no TERM set')}, {size.columns} by {size.lines}, {encoding}"
    if size.columns < 60 or size.lines < 20:
        return Finding("terminal", "look", f"{text}; the dashboard needs 60 by 20")
    if "utf" not in encoding.lower():
        return Finding("terminal", "look", f"{text}; names outside {encoding} are shown by their code")
    return Finding("terminal", "good", text)


def places(options: Options, named: bool) -> Iterator[Finding]:
    """Where the files of the keeper and of the program lie."""
    keys = options.keys or preferences_path()
    try:
        load_preferences(options.keys)
        yield Finding("keys and colours", "good", str(keys) if keys.exists() else f"{keys}, not there: as they come")
    except PreferencesFaults as faults:
        yield Finding("keys and colours", "fault", "; ".join(faults.lines))
    yield Finding("cache", "good", f"{cache_path(Path()).parent}, may be deleted")
    if named:
        yield Finding("room file", "good", str(options.room_file.absolute()))
        yield Finding("ledger", "good", _shown(ledger_place(options)))


def room_findings(options: Options) -> Iterator[Finding]:
    """Faults of a room file, else what is odd in it."""
    try:
        room = load_room(options.room_file)
    except RoomFileFaults as faults:
        yield from (Finding("room file", "fault", line) for line in faults.lines())
        return
    yield Finding("room file", "good", f"sound, {len(room.tanks)} tanks")
    for warning in warnings_of(options.room_file, room, room.day(moment(options.now, room))):
        yield Finding("room file", "look", str(warning))


def ledger_findings(options: Options) -> Iterator[Finding]:
    """Whether a ledger is as it was written, what is unusual in it, and whether it has room to grow."""
    place = ledger_place(options)
    if isinstance(place, Path) and not place.exists():
        yield Finding("ledger", "look", "not there yet; the first round makes it")
        return
    try:
        broken = verify(place)
    except LedgerFault as fault:
        broken = [str(fault)]
    yield from (Finding("ledger", "fault", str(each)) for each in broken)
    if not broken:
        size = f", {place.stat().st_size / 1e6:.1f} MB" if isinstance(place, Path) else ""
        yield Finding("ledger", "good", f"every entry is as it was written{size}")
        yield from (Finding("ledger", "look", str(each)) for each in oddities(place))
        yield from _clock(options, place)
    if isinstance(place, Path):
        yield _disk(place)


def _shown(place: Place) -> str:
    return str(place.absolute()) if isinstance(place, Path) else str(place)


def _disk(path: Path) -> Finding:
    free = shutil.disk_usage(path.parent).free / 1e6
    state: Literal["good", "look"] = "good" if free >= LEAST_FREE_MB else "look"
    return Finding("disk", state, f"{free:,.0f} MB free beside the ledger")


def _clock(options: Options, place: Place) -> Iterator[Finding]:
    try:
        ledger = open_at(place, create=False)
    except LedgerFault as fault:
        yield Finding("ledger", "fault", str(fault))
        return
    try:
        room = load_room(options.room_file)
        odd = clock_fault(ledger.last_at(), moment(options.now, room))
    except RoomFileFaults:
        return
    finally:
        ledger.close()
    yield Finding("clock", "look" if odd else "good", str(odd) if odd else "agrees with the ledger")
