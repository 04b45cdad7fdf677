"""A connection to a ledger file: how it is opened, made, brought up to date and checked to be one."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import Final

from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.files import whole
from schedules.ledger.stores.sqlite.earlier import AS_NOW, prepare
from schedules.ledger.stores.sqlite.schema import APPLICATION_ID, GENERIC, STEPS, VERSION, objects
from schedules.ledger.stores.sqlite.tail_marker import forget_marker

_PAGES_AT_ONCE: Final = 4096
_SETTINGS: Final = (
    "trusted_schema = OFF",
    "cell_size_check = ON",
    "synchronous = FULL",
    "fullfsync = ON",
    "checkpoint_fullfsync = ON",
)


def connect(path: Path, patience: float, mode: str = "mode=rw") -> sqlite3.Connection:
    """An SQLite connection that never waits longer than `patience` seconds for others and syncs every commit."""
    made = sqlite3.connect(
        f"{path.absolute().as_uri()}?{mode}", uri=True, timeout=patience, isolation_level=None, check_same_thread=False
    )
    try:
        for setting in _SETTINGS:
            made.execute(f"PRAGMA {setting}")
    except BaseException:
        made.close()
        raise
    return made


def connect_reading(path: Path, patience: float) -> sqlite3.Connection:
    """A connection that only reads, and leaves a log beside the file as it is. The file may be read-only.

    Where not even the directory may be written, the file is read as one that nobody changes; that is refused while
    there is a log beside it, for the newest entries are in the log.
    """
    log = path.with_name(f"{path.name}-wal")
    in_log = log.exists() and log.stat().st_size > 0
    if not in_log and os.access(path, os.W_OK) and os.access(path.parent, os.W_OK):
        made = connect(path, patience)
        made.execute("PRAGMA query_only = ON")
        return made
    try:
        return _connect_only_reading(path, patience, "mode=ro")
    except sqlite3.OperationalError:
        if in_log or not os.access(path, os.R_OK):
            raise
        return _connect_only_reading(path, patience, "mode=ro&immutable=1")


def _connect_only_reading(path: Path, patience: float, mode: str) -> sqlite3.Connection:
    made = connect(path, patience, mode)
    try:
        made.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    except BaseException:
        made.close()
        raise
    return made


def read_as_now(connection: sqlite3.Connection, version: int) -> None:
    """Let everything asked of the entries of an older version be answered with rows of today."""
    if version < GENERIC:
        prepare(connection)
        connection.execute("PRAGMA query_only = OFF")
        connection.execute(f"CREATE TEMP VIEW entries AS {AS_NOW.format(table='main.entries')}")
        connection.execute("PRAGMA query_only = ON")


def copy_into(reader: sqlite3.Connection, copy: Path) -> None:
    """Copy everything a connection sees at one moment into an empty file."""
    with closing(sqlite3.connect(copy, isolation_level=None)) as writer:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM sqlite_schema").fetchone()
        try:
            reader.backup(writer, pages=_PAGES_AT_ONCE)
        finally:
            reader.execute("COMMIT")


@contextmanager
def new_ledger(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection to a new empty ledger of the newest version, which becomes the file `path` whole or not at all.

    What an older ledger of that name left beside it says nothing of the new one: its tail marker goes, and a log that
    still holds entries is refused, for SQLite would read it into the new file.
    """
    with whole(path) as new:
        with closing(connect(new, 0)) as connection:
            lay_out(connection)
            yield connection
        _clear_beside(path)


def _clear_beside(path: Path) -> None:
    if path.exists():
        raise FileExistsError(path)
    log = path.with_name(f"{path.name}-wal")
    with suppress(FileNotFoundError):
        if log.stat().st_size > 0 and not path.exists():
            raise fault(
                log,
                "this log belongs to a ledger that is not here any more. Bring it back, or move the log away.",
            )
    forget_marker(path)


def lay_out(connection: sqlite3.Connection, version: int = VERSION) -> None:
    """Make an empty file a ledger."""
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("BEGIN IMMEDIATE")
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    bring_up(connection, 0, version)
    connection.execute("COMMIT")


def bring_up(connection: sqlite3.Connection, version: int, target: int = VERSION) -> None:
    """Within a transaction, take the tables from one version to another."""
    prepare(connection)
    for step in STEPS[version:target]:
        for statement in step:
            connection.execute(statement)
    connection.execute(f"PRAGMA user_version = {target}")


def version_of(path: Path, connection: sqlite3.Connection) -> int:
    """The schema version of a ledger file; a fault where it is none, or one of a newer program."""
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    if connection.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID or version < 1:
        raise fault(path, "this file is not a ledger of Rackround. Name another with --ledger, or move it away.")
    if version > VERSION:
        raise fault(
            path,
            f"this ledger was written by a newer Rackround (schema version {version}; this program knows up to "
            f"{VERSION}). It was not changed; use the newer program.",
        )
    return version


def check_tables(path: Path, connection: sqlite3.Connection, version: int = VERSION) -> None:
    """A fault unless the file has exactly the tables, indexes and triggers of a version, and nothing besides."""
    found = dict(connection.execute("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL"))
    if found != objects(version):
        wrong = sorted(
            name for name in found.keys() | objects(version) if found.get(name) != objects(version).get(name)
        )
        raise fault(
            path,
            f"its tables are not those of a ledger ({', '.join(map(str, wrong))}). Keep the file as it is; `rackround "
            "ledger repair` saves what can be read.",
        )
