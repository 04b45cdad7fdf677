"""A ledger on a server filled at once: made as a file first, with every check, and then copied row by row."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.postgres import queries
from schedules.ledger.stores.postgres.faults import faults_of
from schedules.ledger.stores.postgres.line import Line, PatientConnection
from schedules.ledger.stores.postgres.opening import is_there, prepare
from schedules.ledger.stores.postgres.rows import kept_row
from schedules.ledger.stores.sqlite.filling import filling
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.room.place import Server

PATIENCE: Final = 3600.0
"""Seconds: ten years of a large room take minutes."""
_EVERY_ROW: Final = (
    "SELECT seq, act, day, at, keeper, kind, version, tank, feed, mark, attempt, undoes, start, body, chain "
    "FROM entries ORDER BY seq"
)


@contextmanager
def filling_server(server: Server) -> Iterator[Inserter]:
    """An inserter into what becomes the ledger on a server at the end; a fault where that holds entries already."""
    with _line(server) as line, faults_of(server):
        _check_empty(server, line.open())
    with TemporaryDirectory(prefix="rackround-") as folder:
        filled = Path(folder) / "filled.ledger.db"
        with filling(filled) as inserter:
            yield inserter
        pour(filled, server)


def pour(filled: Path, server: Server) -> None:
    """Make the ledger on a server of every row of a sound one in a file; a fault where there are entries already."""
    with _line(server) as line, faults_of(server):
        connection = line.open()
        prepare(server, connection, create=True)
        _pour(server, filled, connection)


@contextmanager
def _line(server: Server) -> Iterator[Line]:
    line = Line(server, PATIENCE)
    try:
        yield line
    finally:
        line.close()


def _check_empty(server: Server, connection: PatientConnection) -> None:
    if is_there(connection) and connection.execute(queries.NEWEST).fetchone() is not None:
        raise fault(server, "there is a ledger here already, and it was not changed. Name another database.")


def _pour(server: Server, filled: Path, connection: PatientConnection) -> None:
    with connection.transaction():
        connection.execute(queries.LOCK)
        _check_empty(server, connection)
        with (
            closing(sqlite3.connect(filled)) as file,
            connection.cursor() as cursor,
            cursor.copy(queries.FILL) as copy,
        ):
            copy.set_types(queries.FILL_TYPES)
            for row in file.execute(_EVERY_ROW):
                copy.write_row(kept_row(row))
    # What the server knows of the table decides how it answers; where this user may not, it finds out by itself.
    connection.execute("ANALYZE entries")
