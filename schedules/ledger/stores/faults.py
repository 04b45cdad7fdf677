"""What every store says in the same words when something is in the way."""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from schedules.ledger.declaration import UnknownKind
from schedules.ledger.entry import LedgerFault

NOT_SAVED: Final = "Nothing of the last mark was saved."
UNREADABLE: Final = (ValueError, TypeError, KeyError, IndexError, OverflowError, RecursionError, zlib.error)
"""What reading a damaged entry can raise."""


def fault(place: object, says: str) -> LedgerFault:
    """A fault of one ledger, named by its place."""
    return LedgerFault(f"{place}: {says}")


@contextmanager
def faults_of_entries(place: object, damaged: str) -> Iterator[None]:
    """Turn what reading an entry raises within into a `LedgerFault`; `damaged` says what to do about damage."""
    try:
        yield
    except UnknownKind as error:
        raise fault(place, f"a newer Rackround wrote in this ledger ({error}). Use the newer program.") from error
    except UNREADABLE as error:
        raise fault(place, f"an entry cannot be read ({error}): {damaged}") from error
