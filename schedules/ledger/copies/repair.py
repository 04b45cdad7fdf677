"""A new ledger from what can still be read of a damaged one, which is left as it is."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing, suppress
from itertools import chain, groupby
from operator import itemgetter
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from schedules.ledger.admission import admitted
from schedules.ledger.copies.salvage import COLUMN_COUNT, Pages, rows_in
from schedules.ledger.entries import AlreadyMarked, Entry, LedgerFault, Undone
from schedules.ledger.lines import FIRST_CHAIN, content_of, next_chain
from schedules.ledger.stores.sqlite.faults import UNREADABLE, fault, faults_of
from schedules.ledger.stores.sqlite.filling import filling
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.ledger.stores.sqlite.rows import PLACES, Row, entry_of_row, line_of_row
from schedules.ledger.stores.sqlite.tail_marker import DAMAGED, Witness, beside, witness_of


class _Saved(NamedTuple):
    """An entry that could be read, its line, and its chain as found."""

    entry: Entry
    line: str
    chain: bytes


def repair(path: Path, to: Path) -> list[str]:
    """Write every entry of `path` that can be read into a new ledger `to`; what was lost or altered, in sentences.

    `path` is not touched. Entries are numbered anew where some are missing. `to` must not exist.
    """
    if not path.is_file():
        raise LedgerFault(f"{path}: there is no ledger here.")
    report: list[str] = []
    witness = max(filter(None, (witness_of(path), witness_of(path, DAMAGED))), default=None)
    with faults_of(path), closing(sqlite3.connect("")) as scratch:
        _collect(path, witness, scratch)
        found = _choose(scratch, witness, report)
        first = next(found, None)
        if first is None:
            raise fault(path, "not one entry can be read; nothing was written.")
        with filling(to) as inserter:
            report.extend(_refill(inserter, (saved.entry for saved in chain((first,), found))))
    return report


def _collect(path: Path, witness: Witness | None, scratch: sqlite3.Connection) -> None:
    """Put every row on any page of the file and of its logs into a scratch table.

    SQLite is asked first, on a copy, which part of the log holds. Of the rest only what the witness tells of counts:
    what came after was never acknowledged.
    """
    scratch.execute(f"CREATE TABLE found ({', '.join(f'c{number}' for number in range(COLUMN_COUNT))}, source)")
    insert = f"INSERT INTO found VALUES ({PLACES}, ?)"
    scratch.executemany(insert, ((*row, 0) for row in rows_in(Pages(_with_log_taken_over(path)))))
    for log in (beside(path, "-wal"), beside(path, "-wal" + DAMAGED)):
        if log.exists():
            rows = rows_in(Pages(path.read_bytes(), log.read_bytes()))
            scratch.executemany(insert, ((*row, 1) for row in rows if witness is None or row[0] <= witness.seq))


def _with_log_taken_over(path: Path) -> bytes:
    """The bytes of the ledger with that part of its log in it that SQLite takes to hold."""
    with TemporaryDirectory(dir=path.parent, prefix=f".{path.name}.") as directory:
        copy = Path(directory, "ledger")
        shutil.copyfile(path, copy)
        with suppress(FileNotFoundError):
            shutil.copyfile(beside(path, "-wal"), beside(copy, "-wal"))
        with suppress(sqlite3.Error, UnicodeDecodeError), closing(sqlite3.connect(copy)) as connection:
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        return copy.read_bytes()


def _choose(scratch: sqlite3.Connection, witness: Witness | None, report: list[str]) -> Iterator[_Saved]:
    """One readable entry for each number; where copies differ, the one that follows from the entry before it.

    What is missing or altered is added to the report.
    """
    seq, before = 0, FIRST_CHAIN
    for number, rows in groupby(scratch.execute("SELECT * FROM found ORDER BY c0, source"), key=itemgetter(0)):
        copies = [saved for row in dict.fromkeys(row[:-1] for row in rows) if (saved := _read(row)) is not None]
        if not copies:
            continue
        follows = number == seq + 1
        fits = [saved for saved in copies if follows and next_chain(before, saved.line) == saved.chain]
        if not follows:
            report.append(f"Entries {seq + 1} to {number - 1} could not be read and are lost.")
        elif not fits:
            report.append(f"Entry {number} or the one before it is not as it was written; it was kept as it is.")
        saved = (fits or copies)[0]
        seq, before = number, saved.chain
        yield saved
    if witness is not None and seq < witness.seq:
        report.append(f"Entries {seq + 1} to {witness.seq} could not be read and are lost.")


def _read(row: Row) -> _Saved | None:
    """A row's entry; the row has the store's `attempt` before undoes, and its chain, which no entry needs."""
    values, chain = (*row[:9], *row[10:13]), row[13]
    try:
        entry = entry_of_row(values)
        line = line_of_row(values)
        admitted([entry.what], entry.day, entry.at, entry.by)
    except (*UNREADABLE, LedgerFault):
        return None
    return _Saved(entry, line, chain) if isinstance(chain, bytes) and 0 < entry.act <= entry.seq else None


def _refill(inserter: Inserter, entries: Iterable[Entry]) -> Iterator[str]:
    """Write the entries act by act, numbered anew; say which could not be written."""
    renumbered: dict[int, int] = {}
    for old, group in groupby(entries, key=lambda entry: (entry.act, entry.day, entry.at, entry.by)):
        act = list(group)
        reason = _write(inserter, act, renumbered)
        for entry in act if reason is not None else ():
            reason = _write(inserter, [entry], renumbered)
            if reason is not None:
                yield f"Entry {entry.seq} of act {old[0]} could not be written again: {reason}"


def _write(inserter: Inserter, act: list[Entry], renumbered: dict[int, int]) -> str | None:
    """Write an act under its new number; the reason where that cannot be done."""
    first = act[0]
    what = [Undone(renumbered.get(one.what.act, 0)) if isinstance(one.what, Undone) else one.what for one in act]
    try:
        settled, at = admitted(what, first.day, first.at, first.by)
        with inserter.all_or_none():
            made = inserter.insert(settled, [content_of(one) for one in settled], first.day, at, first.by)
    except (AlreadyMarked, LedgerFault) as reason:
        return str(reason)
    renumbered.setdefault(first.act, made[0].seq)
    return None
