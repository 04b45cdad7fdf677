"""Whether a ledger is as it was written: the store's integrity, the chain of entries, and what entries must obey."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from itertools import islice
from pathlib import Path
from typing import Final

from schedules.ledger.copies.consistency import ODDITIES, rules
from schedules.ledger.declaration import UnknownKind
from schedules.ledger.entry import LedgerFault
from schedules.ledger.lines import FIRST_CHAIN, Record, next_chain
from schedules.ledger.stores.faults import UNREADABLE
from schedules.ledger.stores.opening import need_driver
from schedules.ledger.stores.rows import check_place, record_of_row
from schedules.ledger.stores.sqlite.connection import check_tables, connect_reading, read_as_now, version_of
from schedules.ledger.stores.sqlite.faults import faults_of
from schedules.ledger.stores.sqlite.queries import ALL_CHAINED
from schedules.ledger.stores.sqlite.tail_marker import lost_end, marker_of
from schedules.room.place import Place, Server

MOST: Final = 50
"""How many findings are listed; a ledger with so many needs repair, not a longer list."""


def verify(place: Place, patience: float = 5.0) -> list[str]:
    """What is wrong with the ledger at a place, in sentences; empty if nothing is.

    Reads everything and changes nothing: a lost end is a finding until a keeper accepts it. Raises `LedgerFault` where
    there is nothing to look at.
    """
    if isinstance(place, Server):
        with _rows_of(place, patience) as connection:
            return list(islice(_findings(connection), MOST))
    return _verify_file(place, patience)


def _verify_file(path: Path, patience: float) -> list[str]:
    if not path.exists():
        raise LedgerFault(f"{path}: there is no ledger here.")
    found: list[str] = []
    try:
        marker = marker_of(path)
        with _rows_of(path, patience) as connection:
            connection.execute("BEGIN")
            lost = lost_end(path, connection, marker)
            found.extend([str(lost)] if lost else [])
            found.extend(islice(_findings(connection), MOST))
    except LedgerFault as fault:
        found.append(str(fault))
    return found


@contextmanager
def _rows_of(place: Place, patience: float) -> Iterator[sqlite3.Connection]:
    """A connection to a table of every entry, which is of today's form; a ledger on a server is copied for that."""
    if isinstance(place, Server):
        need_driver(place)
        # Imported here and not above: a ledger in a file needs no driver.
        from schedules.ledger.stores.postgres.scratch import scratch_of

        with scratch_of(place, patience) as connection:
            yield connection
        return
    with faults_of(place), closing(connect_reading(place, patience)) as connection:
        version = version_of(place, connection)
        check_tables(place, connection, version)
        read_as_now(connection, version)
        yield connection


def _findings(connection: sqlite3.Connection) -> Iterator[str]:
    for (said,) in connection.execute(f"PRAGMA integrity_check({MOST})"):
        if said != "ok":
            yield f"the file is damaged: {said}"
    yield from _chain_findings(connection)
    for query, says in rules():
        for row in connection.execute(query):
            yield says.format(*row)


def _chain_findings(connection: sqlite3.Connection) -> Iterator[str]:
    """Entries that cannot be read, are not as they were written, or have no place in the numbering."""
    expected, before = 1, FIRST_CHAIN
    previous: Record | None = None
    for *columns, chain in connection.execute(ALL_CHAINED):
        row = tuple(columns)
        if row[0] != expected:
            yield f"entries {expected} to {row[0] - 1} are missing"
        try:
            record = record_of_row(row)
            line = record.line
            check_place(row, record.draft)
        except UnknownKind as error:
            yield f"entry {row[0]} was written by a newer Rackround ({error})"
        except UNREADABLE as error:
            yield f"entry {row[0]} cannot be read ({error})"
        else:
            if row[0] == expected and next_chain(before, line) != chain:
                yield f"entry {record.seq} or the one before it is not as it was written"
            if record.act != record.seq and (previous is None or not _same_act(previous, record)):
                yield f"entry {record.seq} belongs to act {record.act} but does not follow from it"
            previous = record
        expected, before = row[0] + 1, chain


def _same_act(one: Record, other: Record) -> bool:
    return (one.act, one.day, one.at, one.by) == (other.act, other.day, other.at, other.by)


def oddities(place: Place, patience: float = 5.0) -> list[str]:
    """What is as it was written and still unusual, in sentences: no damage, but worth a keeper's look."""
    with _rows_of(place, patience) as connection:
        found = (says.format(*row) for query, says in ODDITIES for row in connection.execute(query))
        return list(islice(found, MOST))
