"""A connection to a ledger file: how it is opened, made, brought up to date and checked to be one."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Final

from schedules.ledger.stores.files import whole
from schedules.ledger.stores.sqlite.faults import fault
from schedules.ledger.stores.sqlite.schema import APPLICATION_ID, STEPS, VERSION, objects

_PAGES_AT_ONCE: Final = 4096


def connect(path: Path, patience: float) -> sqlite3.Connection:
    """An SQLite connection that never waits longer than `patience` seconds for others and syncs every commit."""
    made = sqlite3.connect(
        f"{path.absolute().as_uri()}?mode=rw", uri=True, timeout=patience, isolation_level=None, check_same_thread=False
    )
    try:
        for setting in ("trusted_schema = OFF", "cell_size_check = ON", "synchronous = FULL", "fullfsync = ON"):
            made.execute(f"PRAGMA {setting}")
        made.execute("PRAGMA checkpoint_fullfsync = ON")
    except BaseException:
        made.close()
        raise
    return made


def copy_into(reader: sqlite3.Connection, copy: Path) -> None:
    """Copy everything a connection sees at one moment into an empty file."""
    with closing(sqlite3.connect(copy, isolation_level=None)) as writer:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM sqlite_schema").fetchone()
        try:
            reader.backup(writer, pages=_PAGES_AT_ONCE)
        finally:
            reader.execute("COMMIT")


def create(path: Path) -> None:
    """Make an empty ledger of the newest version at `path`, which appears whole or not at all."""
    with whole(path) as new, closing(connect(new, 0)) as made:
        lay_out(made)


def lay_out(connection: sqlite3.Connection, version: int = VERSION) -> None:
    """Make an empty file a ledger."""
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("BEGIN IMMEDIATE")
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    bring_up(connection, 0, version)
    connection.execute("COMMIT")


def bring_up(connection: sqlite3.Connection, version: int, target: int = VERSION) -> None:
    """Within a transaction, take the tables from one version to another."""
    for step in STEPS[version:target]:
        for statement in step:
            connection.execute(statement)
    connection.execute(f"PRAGMA user_version = {target}")


def version_of(path: Path, connection: sqlite3.Connection) -> int:
    """The version of a ledger file; a fault where it is none, or one of a newer program."""
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    if connection.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID or version < 1:
        raise fault(path, "this file is no ledger of Rackround. Name another with --ledger, or move it away.")
    if version > VERSION:
        raise fault(
            path,
            f"this ledger was written by a newer Rackround (its form is number {version}, this one knows up to "
            f"{VERSION}). It was left as it is; use the newer program.",
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
