"""Adding the entries of one act to the table, within a transaction that the caller began."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any

from schedules.ledger.declaration import kind_named
from schedules.ledger.entry import AlreadyMarked, Entry, LedgerFault
from schedules.ledger.lines import FIRST_CHAIN, Draft, next_chain, record_of
from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.rows import Place, entry_of_row, place_of, row_of
from schedules.ledger.stores.sqlite import queries
from schedules.ledger.stores.sqlite.faults import DAMAGED


class Inserter:
    """Writes entries through one connection; `path` is named in faults.

    `chains` are the chains of the act inserted last.
    """

    def __init__(self, connection: sqlite3.Connection, path: Path) -> None:
        self._connection = connection
        self._path = path
        self.chains: list[bytes] = []

    @contextmanager
    def all_or_none(self) -> Iterator[None]:
        """A part of the transaction of which nothing stays where it fails."""
        self._connection.execute("SAVEPOINT act")
        try:
            yield
        except BaseException:
            self._connection.execute("ROLLBACK TO act")
            raise
        finally:
            self._connection.execute("RELEASE act")

    def insert(self, drafts: Sequence[Draft], day: date, at: datetime, by: str | None) -> tuple[Entry, ...]:
        """Add an act that was `admitted`; `AlreadyMarked` as in `Ledger.append`."""
        last, chain = self._connection.execute(queries.NEWEST).fetchone() or (0, FIRST_CHAIN)
        made, self.chains = [], []
        for seq, draft in enumerate(drafts, start=last + 1):
            entry = Entry(seq, last + 1, day, at, by, draft.what)
            chain = next_chain(chain, record_of(entry, draft).line)
            self._insert_one(entry, draft, chain)
            made.append(entry)
            self.chains.append(chain)
        return tuple(made)

    def _insert_one(self, entry: Entry, draft: Draft, chain: bytes) -> None:
        place = place_of(draft)
        if place.undoes is not None:
            self._refuse_undoing(place.undoes, entry.act)
        attempt = self._attempt(entry, draft, place)
        try:
            self._connection.execute(queries.INSERT, row_of(entry, draft, attempt, chain))
        except sqlite3.IntegrityError as error:
            if error.sqlite_errorcode != sqlite3.SQLITE_CONSTRAINT_UNIQUE:
                raise
            raise AlreadyMarked(self._winner(entry, place, attempt)) from error

    def _attempt(self, entry: Entry, draft: Draft, place: Place) -> int:
        """How often this mark was made and undone before, or how many entries with its start this one continues."""
        if place.start is not None:
            return self._continued(draft, place.start)
        if place.mark is None:
            return 0
        return int(self._connection.execute(queries.UNDONE_MARKS, _mark_values(entry, place)).fetchone()[0])

    def _continued(self, draft: Draft, start: int) -> int:
        """How many entries with the same start there are, the last of which this one must continue."""
        found = self._connection.execute(queries.STARTED, (start,)).fetchone()
        if found is None:
            return 0
        latest = entry_of_row(found)
        if type(latest.what) is not type(draft.what) or not draft.kind.continues(draft.what, latest.what):
            raise AlreadyMarked(latest)
        return int(self._connection.execute(queries.STARTS, (start,)).fetchone()[0])

    def _refuse_undoing(self, act: int, before: int) -> None:
        found = self._connection.execute(queries.ACT_KIND, (act,)).fetchone() if 0 < act < before else None
        if found is None or not kind_named(found[0]).undoable:
            raise LedgerFault(f"there is no act {act} that can be undone")

    def _winner(self, entry: Entry, place: Place, attempt: int) -> Entry:
        """The entry that holds where the store refused this one."""
        values: tuple[Any, ...]
        if place.undoes is not None:
            query, values = queries.UNDO, (place.undoes,)
        elif place.start is not None:
            query, values = queries.STARTED, (place.start,)
        else:
            query, values = queries.MARK, (*_mark_values(entry, place), attempt)
        row = self._connection.execute(query, values).fetchone()
        if row is None:
            raise fault(self._path, f"its index and its entries disagree: {DAMAGED}")
        return entry_of_row(row)


def _mark_values(entry: Entry, place: Place) -> tuple[Any, ...]:
    return place.tank, place.feed, entry.day.toordinal(), place.mark
