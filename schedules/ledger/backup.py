"""A copy of a ledger made while it is in use: whole, of one moment, for its owner only."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from schedules.ledger.connection import connect, version_of
from schedules.ledger.files import whole
from schedules.ledger.store_faults import fault, faults_of

_PAGES_AT_ONCE = 4096


def copy_into(reader: sqlite3.Connection, copy: Path) -> None:
    """Copy everything a connection sees at one moment into an empty file."""
    with closing(sqlite3.connect(copy, isolation_level=None)) as writer:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM sqlite_schema").fetchone()
        try:
            reader.backup(writer, pages=_PAGES_AT_ONCE)
        finally:
            reader.execute("COMMIT")


def backup(path: Path, to: Path, patience: float = 5.0) -> int:
    """Copy the ledger at `path` to `to`, which must not exist; the number of entries in the copy.

    Others may go on writing meanwhile; what they write after the copy began is not in it.
    """
    if to.exists():
        raise fault(to, "this file exists already and was left as it is. Name another.")
    with faults_of(path), closing(connect(path, patience)) as reader:
        version_of(path, reader)
        with faults_of(to), whole(to) as copy:
            copy_into(reader, copy)
            with closing(sqlite3.connect(copy)) as copied:
                return int(copied.execute("SELECT coalesce(max(seq), 0) FROM entries").fetchone()[0])
