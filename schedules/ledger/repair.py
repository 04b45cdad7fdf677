"""A new ledger from what can still be read of a damaged one, which is left as it is."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from itertools import groupby
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from schedules.ledger.admission import admitted
from schedules.ledger.entries import AlreadyMarked, Entry, LedgerFault, Undone
from schedules.ledger.filling import filling
from schedules.ledger.inserting import Inserter
from schedules.ledger.lines import FIRST_CHAIN, content_of, next_chain
from schedules.ledger.rows import entry_of_row, line_of_row
from schedules.ledger.salvage import Row, pages_of, rows_in
from schedules.ledger.store_faults import UNREADABLE, fault, faults_of
from schedules.ledger.witness import DAMAGED, Witness, beside, witness_of


class _Saved(NamedTuple):
    """An entry that could be read, its chain as found and as it should be after any chain before it."""

    entry: Entry
    line: str
    chain: bytes


def repair(path: Path, to: Path) -> list[str]:
    """Write every entry of `path` that can be read into a new ledger `to`; what was lost or altered, in sentences.

    `path` is not touched. Entries are numbered anew where some are missing. `to` must not exist.
    """
    if not path.is_file():
        raise LedgerFault(f"{path}: there is no ledger here.")
    with faults_of(path):
        witness = max(filter(None, (witness_of(path), witness_of(path, DAMAGED))), default=None)
        found = _choose(_rows(path, witness))
    if not found:
        raise fault(path, "not one entry can be read; nothing was written.")
    report = list(_losses(found, witness))
    with filling(to) as inserter:
        report.extend(_refill(inserter, [saved.entry for saved in found]))
    return report


def _rows(path: Path, witness: Witness | None) -> list[Row]:
    """Every row on any page of the file and of its logs.

    SQLite is asked first, on a copy, which part of the log holds. Of the rest only what the witness tells of counts:
    what came after was never acknowledged.
    """
    logs = [log.read_bytes() for log in (beside(path, "-wal"), beside(path, "-wal" + DAMAGED)) if log.exists()]
    found = list(rows_in(pages_of(_with_log_taken_over(path))))
    for log in logs:
        rows = rows_in(pages_of(path.read_bytes(), log))
        found.extend(row for row in rows if witness is None or row[0] <= witness.seq)
    return found


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


def _choose(rows: list[Row]) -> list[_Saved]:
    """One readable entry for each number; where copies differ, the one that follows from the entry before it."""
    by_seq: dict[int, list[_Saved]] = {}
    for row in rows:
        saved = _read(row)
        if saved is not None and saved not in by_seq.setdefault(saved.entry.seq, []):
            by_seq[saved.entry.seq].append(saved)
    chosen: list[_Saved] = []
    for seq in sorted(by_seq):
        before = _chain_before(chosen[-1] if chosen else None, seq)
        fits = [saved for saved in by_seq[seq] if before is not None and next_chain(before, saved.line) == saved.chain]
        chosen.append((fits or by_seq[seq])[0])
    return chosen


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


def _chain_before(previous: _Saved | None, seq: int) -> bytes | None:
    """The chain that an entry follows from, None where the entry before it is lost."""
    if seq == 1:
        return FIRST_CHAIN
    return previous.chain if previous is not None and previous.entry.seq == seq - 1 else None


def _losses(found: list[_Saved], witness: Witness | None) -> Iterator[str]:
    previous: _Saved | None = None
    for saved in found:
        seq, last = saved.entry.seq, previous.entry.seq if previous else 0
        if seq > last + 1:
            yield f"Entries {last + 1} to {seq - 1} could not be read and are lost."
        before = _chain_before(previous, seq)
        if before is not None and next_chain(before, saved.line) != saved.chain:
            yield f"Entry {seq} or the one before it is not as it was written; it was kept as it is."
        previous = saved
    if witness is not None and previous is not None and previous.entry.seq < witness.seq:
        yield f"Entries {previous.entry.seq + 1} to {witness.seq} could not be read and are lost."


def _refill(inserter: Inserter, entries: list[Entry]) -> Iterator[str]:
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
