"""A sound room as it was read the last time, so that opening it again need not check its file again.

Loading what checks a room file takes longer than all else between the command and the first screen. The room is kept as
plain JSON in the user's own cache folder, one file for each room file, and used only for the very same bytes and the
very same program. Folder and file must be the user's own, closed to others, and no links. Whatever is wrong with
them, the room file is simply read. On Windows nothing is kept.
"""

from __future__ import annotations

import json
import os
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path
from typing import Final

from schedules import room as room_package
from schedules.room import Room
from schedules.room.data import room_data, room_from

MOST_KEPT: Final = 20
"""Rooms that are kept at the most; the oldest go first."""
LARGEST: Final = 16 * 1024 * 1024
"""Bytes of the largest kept room that is read."""
SUFFIX: Final = ".room.json"
_OTHERS: Final = stat.S_IRWXG | stat.S_IRWXO


class _Odd(OSError):
    """A folder or file that is not the user's alone."""


def kept_room(path: Path, *, keep: bool) -> Room:
    """The room that a file describes, checked now or before. Raises `RoomFileFaults` like `load_room`.

    With `keep`, what is read now is kept for the next time.
    """
    from schedules.room_file import load_room

    mark = _mark_of(path) if sys.platform != "win32" else None
    if mark is None:
        return load_room(path)
    place = cache_path(path)
    room = _read(place, mark)
    if room is None:
        room = load_room(path)
        # A file that was saved again while it was read is read again the next time.
        if keep and mark == _mark_of(path):
            with suppress(OSError):
                _write(place, mark, room)
    return room


def cache_path(path: Path) -> Path:
    """Where a room file's room is kept."""
    home = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(home) / "rackround" / f"{sha256(str(path.absolute()).encode()).hexdigest()[:20]}{SUFFIX}"


def _mark_of(path: Path) -> str | None:
    """What a kept room must have been made from: the file's bytes, this program, this Python; None for no file."""
    sources = Path(room_package.__file__).parents[1]
    found = sha256(sys.version.encode())
    try:
        if not path.is_file():
            return None
        for folder in ("room", "room_file"):
            for source in sorted((sources / folder).rglob("*.py")):
                found.update(source.read_bytes())
        found.update(path.read_bytes())
    except OSError:
        return None
    return found.hexdigest()


@contextmanager
def _own_folder(folder: Path) -> Iterator[int]:
    """A descriptor of the folder. Raises `OSError` where it is a link, somebody else's, or open to others."""
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
    try:
        _check_own(descriptor)
        yield descriptor
    finally:
        os.close(descriptor)


def _check_own(descriptor: int) -> os.stat_result:
    state = os.fstat(descriptor)
    if state.st_uid != os.getuid() or state.st_mode & _OTHERS:
        raise _Odd
    return state


def _read(place: Path, mark: str) -> Room | None:
    """The room kept under a mark; None for another mark, a damaged file, or one that others could have written."""
    try:
        with _own_folder(place.parent) as folder:
            descriptor = os.open(place.name, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK, dir_fd=folder)
            with os.fdopen(descriptor, "rb") as file:
                state = _check_own(descriptor)
                if not stat.S_ISREG(state.st_mode) or state.st_nlink != 1 or state.st_size > LARGEST:
                    return None
                kept = json.loads(file.read(LARGEST))
        return room_from(kept["room"]) if kept["mark"] == mark else None
    except (OSError, ValueError, LookupError, TypeError, RecursionError):
        return None


def _write(place: Path, mark: str, room: Room) -> None:
    """Keep a room, whole or not at all, and let go of the oldest of too many."""
    # Imported here and not above: a room that is kept already needs none of it.
    from tempfile import mkstemp

    place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    with _own_folder(place.parent) as folder:
        descriptor, draft = mkstemp(suffix=SUFFIX, dir=place.parent)
        try:
            with os.fdopen(descriptor, "w", encoding="utf-8") as file:
                json.dump({"mark": mark, "room": room_data(room)}, file, separators=(",", ":"))
            os.rename(Path(draft).name, place.name, src_dir_fd=folder, dst_dir_fd=folder)
        except BaseException:
            Path(draft).unlink()
            raise
        _drop_oldest(folder)


def _drop_oldest(folder: int) -> None:
    """Delete the oldest files of rooms, also drafts that were never finished."""
    names = [name for name in os.listdir(folder) if name.endswith(SUFFIX)]
    names.sort(key=lambda name: os.stat(name, dir_fd=folder, follow_symlinks=False).st_mtime_ns)
    for name in names[:-MOST_KEPT]:
        os.unlink(name, dir_fd=folder)
