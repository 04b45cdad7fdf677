"""Whether a ledger is as it was written: the file's own integrity, the chain of entries, and what entries must obey."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from itertools import islice
from pathlib import Path
from typing import Final

from schedules.ledger.copies.consistency import ODDITIES, RULES
from schedules.ledger.entries import Entry, LedgerFault
from schedules.ledger.lines import FIRST_CHAIN, next_chain
from schedules.ledger.stores.sqlite.connection import check_tables, connect, version_of
from schedules.ledger.stores.sqlite.faults import UNREADABLE, faults_of
from schedules.ledger.stores.sqlite.rows import COLUMNS, entry_of_row, line_of_row
from schedules.ledger.stores.sqlite.tail_marker import refuse_lost_end, witness_of

MOST: Final = 50
"""How many findings are listed; a ledger with so many needs repair, not a longer list."""


def verify(path: Path, patience: float = 5.0) -> list[str]:
    """What is wrong with the ledger at `path`, in sentences; empty if nothing is.

    Reads everything, changes nothing. Raises `LedgerFault` where there is no such file to look at.
    """
    if not path.exists():
        raise LedgerFault(f"{path}: there is no ledger here.")
    found: list[str] = []
    try:
        witness = witness_of(path)
        with faults_of(path), closing(connect(path, patience)) as connection:
            version = version_of(path, connection)
            refuse_lost_end(path, connection, witness)
            connection.execute("BEGIN")
            check_tables(path, connection, version)
            found.extend(islice(_findings(connection, version), MOST))
    except LedgerFault as fault:
        found.append(str(fault))
    return found


def _findings(connection: sqlite3.Connection, version: int) -> Iterator[str]:
    for (said,) in connection.execute(f"PRAGMA integrity_check({MOST})"):
        if said != "ok":
            yield f"The file is damaged: {said}."
    yield from _chain_findings(connection)
    for since, query, says in RULES:
        if version >= since:
            for row in connection.execute(query):
                yield says.format(*row)


def _chain_findings(connection: sqlite3.Connection) -> Iterator[str]:
    """Entries that cannot be read, are not as they were written, or have no place in the numbering."""
    expected, before = 1, FIRST_CHAIN
    previous: Entry | None = None
    for *row, chain in connection.execute(f"SELECT {COLUMNS}, chain FROM entries ORDER BY seq"):
        if row[0] != expected:
            yield f"Entries {expected} to {row[0] - 1} are missing."
        try:
            entry = entry_of_row(tuple(row))
            line = line_of_row(tuple(row))
        except UNREADABLE as error:
            yield f"Entry {row[0]} cannot be read ({error})."
        else:
            if row[0] == expected and next_chain(before, line) != chain:
                yield f"Entry {entry.seq} or the one before it is not as it was written."
            if entry.act != entry.seq and (previous is None or not _same_act(previous, entry)):
                yield f"Entry {entry.seq} belongs to act {entry.act} but does not follow from it."
            previous = entry
        expected, before = row[0] + 1, chain


def _same_act(one: Entry, other: Entry) -> bool:
    return (one.act, one.day, one.at, one.by) == (other.act, other.day, other.at, other.by)


def oddities(path: Path, patience: float = 5.0) -> list[str]:
    """What is as it was written and still unusual, in sentences: no damage, but worth a keeper's look."""
    with faults_of(path), closing(connect(path, patience)) as connection:
        version_of(path, connection)
        found = (says.format(*row) for query, says in ODDITIES for row in connection.execute(query))
        return list(islice(found, MOST))
