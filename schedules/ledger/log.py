"""Whether the write-ahead log beside a ledger lost marks that had been saved: cut short, or damaged in the middle.

SQLite goes on with whatever part of the log still follows from its beginning. That is right after a power cut, when
only the unsaved end is missing, and it would be silent about anything worse. Source of the layouts: the SQLite
project's "Database File Format", section 4, and "WAL-mode File Format", section 2 (https://www.sqlite.org/walformat.html).
"""

from __future__ import annotations

import shutil
import struct
from pathlib import Path
from typing import Final, NamedTuple

from schedules.ledger.salvage import PAGE_BYTES
from schedules.ledger.store_faults import fault

DAMAGED_LOG: Final = "-wal.damaged"
_LOG_HEAD, _FRAME_HEAD = 32, 24
_FRAME: Final = _FRAME_HEAD + PAGE_BYTES
_INDEX_MARK: Final = "=16xI12xII"
"""In the index beside the log: the number of saved frames, then the salts of the log they are in."""


class Saved(NamedTuple):
    """How many frames of the log with these salts had been saved."""

    frames: int
    salts: tuple[int, int]


def beside(path: Path, tail: str) -> Path:
    """The file that stands beside a ledger under its name and a tail."""
    return path.with_name(path.name + tail)


def saved_frames(path: Path) -> Saved | None:
    """What the index beside the log says was saved; None where there is no index.

    The index is written only after a frame is on the disk, so it never says too much.
    """
    try:
        frames, first, second = struct.unpack_from(_INDEX_MARK, beside(path, "-shm").read_bytes())
    except (OSError, struct.error):
        return None
    return Saved(frames, (int(first), int(second)))


def refuse_lost_log(path: Path, before: Saved | None) -> None:
    """A fault where saved frames are missing, which is told once: a copy of the log is kept beside the ledger.

    To be asked after the first read of a connection, `before` being `saved_frames` from before it was opened.
    """
    now = saved_frames(path)
    if now is None or not _lost(path, before, now):
        return
    kept = beside(path, DAMAGED_LOG)
    shutil.copy(beside(path, "-wal"), kept)
    raise fault(
        path,
        f"its log was cut short or damaged, and marks that had been saved are missing. It was kept as {kept.name}; "
        "`rackround ledger repair` saves what can be read of it. Open the ledger again to go on without them.",
    )


def _lost(path: Path, before: Saved | None, now: Saved) -> bool:
    if before is not None and before.frames > 0:
        return before.salts == now.salts and before.frames > now.frames
    return _commits_beyond(beside(path, "-wal"), now.frames)


def _commits_beyond(log: Path, frames: int) -> bool:
    """Whether the log holds the end of a transaction of its own after the frames that were taken over from it."""
    try:
        data = log.read_bytes()
    except OSError:
        return False
    salts = data[16:24]
    for at in range(_LOG_HEAD + frames * _FRAME, len(data) - _FRAME_HEAD + 1, _FRAME):
        if data[at + 8 : at + 16] == salts and data[at + 4 : at + 8] != bytes(4):
            return True
    return False
