"""What a failing store means for the keeper: every error becomes a `LedgerFault` that says what to do."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from schedules.ledger.stores.faults import NOT_SAVED, fault, faults_of_entries

READ_ONLY: Final = f"the file is read-only. {NOT_SAVED} Give yourself the right to write (chmod u+w)."
_BY_CODE: Final[dict[int, str]] = {
    sqlite3.SQLITE_BUSY: f"another program holds the ledger. {NOT_SAVED} Close the other program or try again.",
    sqlite3.SQLITE_LOCKED: f"another program holds the ledger. {NOT_SAVED} Close the other program or try again.",
    sqlite3.SQLITE_PROTOCOL: f"too many programs use the ledger at once. {NOT_SAVED} Try again.",
    sqlite3.SQLITE_FULL: f"the disk is full. {NOT_SAVED} Free some space, then try again.",
    sqlite3.SQLITE_READONLY: READ_ONLY,
    sqlite3.SQLITE_IOERR: f"disk error (full, failing, removed, or a limit on file size). {NOT_SAVED} Check the disk, "
    "then try again.",
    sqlite3.SQLITE_CANTOPEN: "the file cannot be opened. Check that its directory exists and that you may write to it.",
    sqlite3.SQLITE_PERM: "you have no right to this file. Give yourself the right to read and write it.",
    sqlite3.SQLITE_AUTH: "you have no right to this file. Give yourself the right to read and write it.",
    sqlite3.SQLITE_NOTADB: "this is not a ledger, or its beginning is damaged. If it was one, `rackround ledger "
    "repair` saves what can be read.",
    sqlite3.SQLITE_CORRUPT: "the file is damaged. Keep it as it is; `rackround ledger repair` saves what can be read.",
}
DAMAGED: Final = _BY_CODE[sqlite3.SQLITE_CORRUPT]


def _meaning(error: sqlite3.Error) -> str:
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        return f"the ledger could not be used ({error})."
    return _BY_CODE.get(code & 0xFF, f"the ledger could not be used ({error}).")


def _system_meaning(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return "there is no such file or directory (any more). Nothing was saved; bring it back or name another."
    if isinstance(error, IsADirectoryError | NotADirectoryError):
        return "there is a directory where a file is expected, or the reverse. Check the path."
    if isinstance(error, PermissionError):
        return "you have no right to this file or its directory. Give yourself the right to read and write both."
    return f"the system refused: {error.strerror or error}. Nothing was saved."


@contextmanager
def faults_of(path: Path) -> Iterator[None]:
    """Turn whatever the store or the system raises within into a `LedgerFault` about `path`."""
    try:
        yield
    except sqlite3.Error as error:
        raise fault(path, _meaning(error)) from error
    except UnicodeDecodeError as error:  # what SQLite says of a damaged file may quote bytes that are no text
        raise fault(path, DAMAGED) from error
    except OSError as error:
        raise fault(path, _system_meaning(error)) from error


@contextmanager
def faults_of_reading(path: Path) -> Iterator[None]:
    """The same, and what reading a damaged entry raises as well."""
    with faults_of_entries(path, DAMAGED), faults_of(path):
        yield
