"""A sound room as it was read the last time, so that opening it again need not check it again.

Checking a room file takes longer than everything else between the command and the first screen. What was read is kept
in the user's own cache folder, one file for each room file, and used only for the very same bytes, read by the very
same program. Whatever is wrong with it, the room file is simply read.
"""

from __future__ import annotations

import os
import pickle
import sys
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import Final

from schedules.room import Room

_SOURCES: Final = ("room_file", "room", "formatting.py", "rules.py")
"""What a room's shape and checks depend on, below the `schedules` folder."""


def cached_room(path: Path) -> Room:
    """The room that a file describes, checked now or before. Raises `RoomFileFaults` like `load_room`."""
    place = cache_path(path)
    mark = _mark_of(path)
    room = _read(place, mark) if mark is not None else None
    if room is not None:
        return room
    from schedules.room_file import load_room

    room = load_room(path)
    # A file that was saved anew while it was read is read again the next time.
    if mark is not None and mark == _mark_of(path):
        with suppress(OSError):
            _write(place, mark, room)
    return room


def cache_path(path: Path) -> Path:
    """Where a room file's room is kept."""
    home = os.environ.get("LOCALAPPDATA" if sys.platform == "win32" else "XDG_CACHE_HOME") or str(
        Path.home() / ".cache"
    )
    return Path(home) / "rackround" / f"{sha256(str(path.absolute()).encode()).hexdigest()[:20]}.room"


def _mark_of(path: Path) -> str | None:
    """What the kept room must have been made from: the file's bytes, this program, this Python."""
    try:
        found = sha256(path.read_bytes())
    except OSError:
        return None
    found.update(f"{path.absolute()}{sys.version}{_program_mark()}".encode())
    return found.hexdigest()


def _program_mark() -> str:
    """When and how long the sources are that read and shape a room."""
    root = Path(sys.modules["schedules.room"].__file__ or "").parents[1]
    files = [file for name in _SOURCES for file in ((root / name).glob("*.py") if "." not in name else (root / name,))]
    return repr([(file.name, state.st_mtime_ns, state.st_size) for file in sorted(files) for state in (file.stat(),)])


def _read(place: Path, mark: str) -> Room | None:
    """The room kept under a mark; None for another mark, a damaged file, or one that others could have written."""
    try:
        if sys.platform != "win32":
            state = place.stat()
            if state.st_uid != os.getuid() or state.st_mode & 0o022:
                return None
        content = place.read_bytes()
        if content[:64] != mark.encode():
            return None
        room = pickle.loads(content[64:])
    except Exception:  # a damaged pickle can raise anything; the room file is read instead
        return None
    return room if isinstance(room, Room) else None


def _write(place: Path, mark: str, room: Room) -> None:
    """Keep a room, whole or not at all."""
    place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    draft = place.with_suffix(f".{os.getpid()}")
    descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(descriptor, "wb") as file:
        file.write(mark.encode() + pickle.dumps(room, protocol=5))
    draft.replace(place)
