"""Opening a ledger file: made where it is missing, checked to be whole, brought up to date."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Final

from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.rows import first_broken
from schedules.ledger.stores.sqlite import queries
from schedules.ledger.stores.sqlite.connection import (
    check_tables,
    connect,
    connect_reading,
    new_ledger,
    read_as_now,
    version_of,
)
from schedules.ledger.stores.sqlite.faults import DAMAGED, faults_of, faults_of_reading
from schedules.ledger.stores.sqlite.migration import migrate
from schedules.ledger.stores.sqlite.schema import VERSION
from schedules.ledger.stores.sqlite.tail_marker import accept, keep_for_repair, lost_end, marker_of

TAIL: Final = 64
"""How many of the newest entries are checked against their chain whenever a ledger is opened."""


def make_where_missing(path: Path, *, allowed: bool) -> None:
    """Make an empty ledger where there is none; a fault where that is not `allowed`, or where something else stands."""
    with faults_of(path):
        if path.is_dir():
            raise fault(path, "this is a directory; a ledger is a file.")
        if path.exists():
            return
        if not allowed:
            raise fault(path, "there is no ledger here. Check the path, or open the room once to begin one.")
        try:
            with new_ledger(path):
                pass
        except FileExistsError:
            return  # another program made it first, which is as good


def prepared(path: Path, patience: float, *, read_only: bool) -> sqlite3.Connection:
    """A connection to a ledger that is whole and of the newest version, or is read as one.

    Raises `LostEnd` where the entries written last are missing, and `LedgerFault` for whatever else is in the way.
    """
    with faults_of(path):
        marker = marker_of(path)
        made = (connect_reading if read_only else connect)(path, patience)
    try:
        with faults_of_reading(path):
            version = version_of(path, made)
            lost = lost_end(path, made, marker)
            if lost is not None:
                if not read_only:
                    keep_for_repair(path)
                raise lost
            if read_only:
                check_tables(path, made, version)
                read_as_now(made, version)
            else:
                _bring_up(path, made, version, patience)
            _check_tail(path, made)
    except BaseException:
        made.close()
        raise
    return made


def _bring_up(path: Path, connection: sqlite3.Connection, version: int, patience: float) -> None:
    if version < VERSION:
        migrate(path, connection, patience)
    check_tables(path, connection)
    if connection.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
        connection.execute("PRAGMA journal_mode = WAL")


def _check_tail(path: Path, connection: sqlite3.Connection) -> None:
    """Refuse a file whose newest entries do not follow from each other; `verify` looks at all of them."""
    broken = first_broken(connection.execute(queries.TAIL, (TAIL,)).fetchall())
    if broken is not None:
        raise fault(path, f"entry {broken} is not as it was written: {DAMAGED}")


def accept_lost_end(path: Path, patience: float = 5.0) -> int:
    """Take a ledger that lost its end as it is, on a keeper's word; the number of its entries.

    What was kept of the damaged log stays beside it for a repair. Raises `LedgerFault` as `open_ledger` does.
    """
    with faults_of(path), closing(connect(path, patience)) as connection:
        check_tables(path, connection, version_of(path, connection))
        accept(path, connection)
        return int(connection.execute("SELECT coalesce(max(seq), 0) FROM entries").fetchone()[0])
