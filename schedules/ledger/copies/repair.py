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
from schedules.ledger.copies.salvage import Pages, rows_in
from schedules.ledger.declaration import kind_of
from schedules.ledger.entries.undone import Undone
from schedules.ledger.entry import AlreadyMarked, LedgerFault
from schedules.ledger.lines import FIRST_CHAIN, Draft, Record, draft_of, next_chain
from schedules.ledger.stores.faults import UNREADABLE, fault
from schedules.ledger.stores.rows import COLUMN_COUNT, PLACES, Row, check_place, record_of_row
from schedules.ledger.stores.sqlite.faults import faults_of
from schedules.ledger.stores.sqlite.filling import filling
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.ledger.stores.sqlite.tail_marker import DAMAGED, TailMarker, beside, marker_of


class _Saved(NamedTuple):
    """An entry that could be read, its line, and its chain as found."""

    record: Record
    draft: Draft
    line: str
    chain: bytes


def repair(path: Path, to: Path) -> list[str]:
    """Write every entry of `path` that can be read into a new ledger `to`; what was lost or altered, in sentences.

    `path` is not touched. Entries are numbered again where some are missing. `to` must not exist.
    """
    if not path.is_file():
        raise LedgerFault(f"{path}: there is no ledger here.")
    report: list[str] = []
    marker = max(filter(None, (marker_of(path), marker_of(path, DAMAGED))), default=None)
    with faults_of(path), closing(sqlite3.connect("")) as scratch:
        _collect(path, marker, scratch)
        found = _choose(scratch, marker, report)
        first = next(found, None)
        if first is None:
            raise fault(path, "no entry can be read; nothing was written")
        with filling(to) as inserter:
            report.extend(_refill(inserter, (saved for saved in chain((first,), found))))
    return report


def _collect(path: Path, marker: TailMarker | None, scratch: sqlite3.Connection) -> None:
    """Put every row on any page of the file and of its logs into a scratch table.

    SQLite is asked first, on a copy, which part of the log holds. Of the rest only what the marker says
    counts: what came after was never acknowledged.
    """
    scratch.execute(f"CREATE TABLE found ({', '.join(f'c{number}' for number in range(COLUMN_COUNT))}, source)")
    insert = f"INSERT INTO found VALUES ({PLACES}, ?)"
    scratch.executemany(insert, ((*row, 0) for row in rows_in(Pages(_with_log_taken_over(path)))))
    for log in (beside(path, "-wal"), beside(path, "-wal" + DAMAGED)):
        if log.exists():
            rows = rows_in(Pages(path.read_bytes(), log.read_bytes()))
            scratch.executemany(insert, ((*row, 1) for row in rows if marker is None or row[0] <= marker.seq))


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


def _choose(scratch: sqlite3.Connection, marker: TailMarker | None, report: list[str]) -> Iterator[_Saved]:
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
            report.append(f"entries {seq + 1} to {number - 1} could not be read and are lost")
        elif not fits:
            report.append(f"entry {number} or the one before it is not as it was written; it was kept as it is")
        saved = (fits or copies)[0]
        seq, before = number, saved.chain
        yield saved
    if marker is not None and seq < marker.seq:
        report.append(f"entries {seq + 1} to {marker.seq} could not be read and are lost")


def _read(row: Row) -> _Saved | None:
    """A row's entry; the row has the store's `attempt` before `undoes`, and its chain, which no entry needs."""
    columns, chain = (*row[:10], *row[11:14]), row[14]
    try:
        record = record_of_row(columns)
        draft = record.draft
        check_place(columns, draft)
        admitted([draft.what], record.day, record.at, record.by)
        line = record.line
    except (*UNREADABLE, LedgerFault):
        return None
    return _Saved(record, draft, line, chain) if isinstance(chain, bytes) and 0 < record.act <= record.seq else None


def _refill(inserter: Inserter, found: Iterable[_Saved]) -> Iterator[str]:
    """Write the entries act by act, numbered again; say which could not be written."""
    renumbered: dict[int, int] = {}
    for old, group in groupby(found, key=lambda saved: _act(saved.record)):
        act = list(group)
        reason = _write(inserter, act, renumbered)
        for saved in act if reason is not None else ():
            reason = _write(inserter, [saved], renumbered)
            if reason is not None:
                yield f"entry {saved.record.seq} of act {old[0]} could not be written again: {reason}"


def _act(record: Record) -> tuple[object, ...]:
    return record.act, record.day, record.at, record.by


def _write(inserter: Inserter, act: list[_Saved], renumbered: dict[int, int]) -> str | None:
    """Write an act under its new number; the reason where that cannot be done."""
    first = act[0].record
    drafts = [_renumbered(saved.draft, renumbered) for saved in act]
    try:
        admitted([draft.what for draft in drafts], first.day, first.at, first.by)
        with inserter.all_or_none():
            made = inserter.insert(drafts, first.day, first.at, first.by)
    except (AlreadyMarked, LedgerFault) as reason:
        return str(reason)
    renumbered.setdefault(first.act, made[0].seq)
    return None


def _renumbered(draft: Draft, renumbered: dict[int, int]) -> Draft:
    undoes = kind_of(draft.what).undoes
    return draft_of(Undone(renumbered.get(undoes(draft.what), 0))) if undoes else draft
