"""Bringing an older ledger file up to date: a copy first, then one transaction for all of it."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from schedules.ledger.stores.files import whole
from schedules.ledger.stores.sqlite.connection import bring_up, check_tables, connect, copy_into, version_of
from schedules.ledger.stores.sqlite.schema import VERSION


def copy_name(path: Path, version: int) -> Path:
    """Where the copy goes that is made of a ledger of a version before it is brought up to date."""
    return path.with_name(f"{path.name}.version-{version}")


def migrate(path: Path, connection: sqlite3.Connection, patience: float) -> None:
    """Bring a ledger to the newest version unless another program just did.

    The copy is made while the file is locked against writers, so it holds every entry; killed at any instant, the
    file is either wholly of the old version or wholly of the new one.
    """
    connection.execute("BEGIN IMMEDIATE")
    try:
        version = version_of(path, connection)
        if version < VERSION:
            check_tables(path, connection, version)
            _keep_copy(path, version, patience)
            bring_up(connection, version)
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _keep_copy(path: Path, version: int, patience: float) -> None:
    reader = connect(path, patience)
    try:
        with whole(copy_name(path, version), replace=True) as copy:
            copy_into(reader, copy)
    finally:
        reader.close()
