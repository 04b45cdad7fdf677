"""Every row of a ledger on a server, as it is there, in a table that the checks of a file can look at."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from typing import Final

from schedules.ledger.stores.postgres import queries
from schedules.ledger.stores.postgres.faults import faults_of
from schedules.ledger.stores.postgres.line import Line, PatientConnection
from schedules.ledger.stores.postgres.opening import prepare
from schedules.ledger.stores.postgres.rows import plain
from schedules.ledger.stores.rows import PLACES, Row
from schedules.room.place import Server

_BATCH: Final = 2000
_TABLE: Final = (
    "CREATE TABLE entries (seq INTEGER PRIMARY KEY, act, day, at, keeper, kind, version, tank, feed, mark, attempt, "
    "undoes, start, body, chain)",
    "CREATE INDEX by_undoes ON entries (undoes)",
)


@contextmanager
def scratch_of(server: Server, patience: float) -> Iterator[sqlite3.Connection]:
    """A throwaway table `entries` with the rows there are at one moment, unchecked; `LedgerFault` for a bad line."""
    line = Line(server, patience)
    try:
        # Kept in a file that SQLite removes by itself: ten years need not fit into memory.
        with closing(sqlite3.connect("")) as scratch:
            for statement in _TABLE:
                scratch.execute(statement)
            with faults_of(server):
                connection = line.open()
                prepare(server, connection, create=False, check_tail=False)
                for row in _rows(connection):
                    scratch.execute(f"INSERT INTO entries VALUES ({PLACES})", row)
            yield scratch
    finally:
        line.close()


def _rows(connection: PatientConnection) -> Iterator[Row]:
    newest = connection.execute(queries.NEWEST).fetchone()
    last = int(newest[0]) if newest else 0
    for seq in range(0, last, _BATCH):
        for row in connection.execute(queries.PART_OF_ALL, (seq, min(seq + _BATCH, last))):
            *head, body, packed, chain = row
            for number in (4, 7, 8, 9):
                head[number] = plain(head[number])
            yield (*head, body if packed is None else packed, chain)
