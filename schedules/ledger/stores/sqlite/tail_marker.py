"""A line beside the ledger that says what was written last, so that a ledger which lost its end does not pass as whole.

A cut or damaged log looks to SQLite like one whose end was never saved. The marker is written after every act that is
on the disk, so it never says too much; it may say too little, and it may be missing, which means nothing.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import suppress
from pathlib import Path
from typing import Final, NamedTuple

from schedules.ledger.entry import LostEnd
from schedules.ledger.lines import CHAIN_BYTES

_LOG, _MARKER = "-wal", "-last"
DAMAGED: Final = ".damaged"
"""The end of the names of a log and a marker that are kept for a repair."""
_SEQ_DIGITS: Final = 15


class TailMarker(NamedTuple):
    """The number and the chain of the entry written last."""

    seq: int
    chain: bytes


def beside(path: Path, tail: str) -> Path:
    """The file that stands beside a ledger under its name and a tail."""
    return path.with_name(path.name + tail)


def write_marker(path: Path, seq: int, chain: bytes) -> None:
    """Write down what was written last; where that fails nothing is lost."""
    with suppress(OSError):
        handle = os.open(beside(path, _MARKER), os.O_CREAT | os.O_WRONLY, 0o600)
        try:
            os.write(handle, f"{seq:0{_SEQ_DIGITS}} {chain.hex()}\n".encode())
        finally:
            os.close(handle)


def forget_marker(path: Path) -> None:
    """Remove the marker that a ledger of the same name left behind; what is kept for a repair stays."""
    beside(path, _MARKER).unlink(missing_ok=True)


def marker_of(path: Path, end: str = "") -> TailMarker | None:
    """What was written last, to be read before the ledger is opened; None where there is no (whole) marker.

    With the `end` `DAMAGED`, what the marker said that was kept for a repair.
    """
    try:
        seq, chain = beside(path, _MARKER + end).read_text("ascii").split()
        found = TailMarker(int(seq), bytes.fromhex(chain))
    except (OSError, ValueError):
        return None
    return found if len(found.chain) == CHAIN_BYTES and len(seq) == _SEQ_DIGITS else None


def lost_end(path: Path, connection: sqlite3.Connection, marker: TailMarker | None) -> LostEnd | None:
    """The fault of a ledger in which the entry written last is missing or another; None where it is there."""
    if marker is None:
        return None
    found = connection.execute("SELECT chain FROM entries WHERE seq = ?", (marker.seq,)).fetchone()
    if found is not None and found[0] == marker.chain:
        return None
    last = _last_of(connection)
    missing = marker.seq - last.seq if last.seq < marker.seq else None
    what = "this is another ledger" if missing is None else f"{missing} entries are missing at its end"
    return LostEnd(
        f"{path}: this is not what was written last: {what}. If you put an older copy here yourself, say so with "
        "`rackround ledger accept`. If not, change nothing; `rackround ledger repair` saves what can be read.",
        missing,
    )


def keep_for_repair(path: Path) -> None:
    """Keep the log and the marker of a ledger that lost its end, once: closing the ledger ends its log."""
    if marker_of(path, DAMAGED) == marker_of(path):
        return
    for tail in (_LOG, _MARKER):
        with suppress(OSError):
            shutil.copy(beside(path, tail), beside(path, tail + DAMAGED))


def accept(path: Path, connection: sqlite3.Connection) -> None:
    """Take the ledger as it is for whole; what was kept for a repair stays."""
    keep_for_repair(path)
    last = _last_of(connection)
    write_marker(path, last.seq, last.chain)


def _last_of(connection: sqlite3.Connection) -> TailMarker:
    found = connection.execute("SELECT seq, chain FROM entries ORDER BY seq DESC LIMIT 1").fetchone()
    return TailMarker(*found) if found else TailMarker(0, bytes(CHAIN_BYTES))
