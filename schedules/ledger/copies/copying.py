"""A ledger moved from one place to another, either way between file and server: the same lines, times and chain."""

from __future__ import annotations

from contextlib import closing

from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.copies.importing import import_lines
from schedules.ledger.stores.opening import open_at
from schedules.room.place import Place


def copy_ledger(source: Place, to: Place) -> int:
    """Copy a ledger, whole and of one moment, to where there is none yet; the number of its entries.

    What came out is checked line by line as any import is. Raises `LedgerFault`, and then leaves nothing behind.
    """
    with closing(open_at(source, create=False)) as ledger:
        return import_lines(export_lines(ledger), to, str(source))
