"""A copy of a ledger made while it is in use: whole, of one moment, for its owner only."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from schedules.ledger.copies.copying import copy_ledger
from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.files import whole
from schedules.ledger.stores.sqlite.connection import connect_reading, copy_into, version_of
from schedules.ledger.stores.sqlite.faults import faults_of
from schedules.room.place import Place, Server


def backup(place: Place, to: Path, patience: float = 5.0) -> int:
    """Copy the ledger at a place to the file `to`, which must not exist; the number of entries in the copy.

    Others may go on writing meanwhile; what they write after the copy began is not in it.
    """
    if isinstance(place, Server):
        return copy_ledger(place, to)
    return _backup(place, to, patience)


def _backup(path: Path, to: Path, patience: float) -> int:
    if to.exists():
        raise fault(to, "this file exists already and was not changed. Name another.")
    with faults_of(path), closing(connect_reading(path, patience)) as reader:
        version_of(path, reader)
        with faults_of(to), whole(to) as copy:
            copy_into(reader, copy)
            with closing(sqlite3.connect(copy)) as copied:
                return int(copied.execute("SELECT coalesce(max(seq), 0) FROM entries").fetchone()[0])
