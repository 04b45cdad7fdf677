"""A new ledger file filled with many acts at once: it appears whole or not at all."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.sqlite.connection import new_ledger
from schedules.ledger.stores.sqlite.faults import faults_of
from schedules.ledger.stores.sqlite.inserting import Inserter

_CACHE_KIB: Final = 256 * 1024
"""Enough for the leaves of every index that a large room writes to, so that ten years are filled in a minute or two."""


@contextmanager
def filling(to: Path) -> Iterator[Inserter]:
    """An inserter into a ledger that becomes the file `to` at the end; a fault where that exists already."""
    if to.exists():
        raise fault(to, "this file exists already and was not changed. Name another.")
    with faults_of(to), new_ledger(to) as connection:
        connection.execute("PRAGMA synchronous = OFF")
        connection.execute(f"PRAGMA cache_size = -{_CACHE_KIB}")
        connection.execute("BEGIN IMMEDIATE")
        yield Inserter(connection, to)
        connection.execute("COMMIT")
