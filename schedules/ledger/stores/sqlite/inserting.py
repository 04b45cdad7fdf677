"""Adding the entries of one act to the table, within a transaction that the caller began."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any

from schedules.ledger.admission import mark_of
from schedules.ledger.entries import AlreadyMarked, Entry, LedgerFault, Posting, Undone, What
from schedules.ledger.lines import FIRST_CHAIN, line_of, next_chain
from schedules.ledger.stores.sqlite import queries
from schedules.ledger.stores.sqlite.faults import DAMAGED, fault
from schedules.ledger.stores.sqlite.rows import entry_of_row, row_of


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

    def insert(
        self, what: Sequence[What], contents: Sequence[dict[str, Any]], day: date, at: datetime, by: str | None
    ) -> tuple[Entry, ...]:
        """Add an act that was `admitted`, with the `content_of` each of its entries; `AlreadyMarked` as in `Ledger`."""
        last, chain = self._connection.execute(queries.NEWEST).fetchone() or (0, FIRST_CHAIN)
        made, self.chains = [], []
        for seq, (one, content) in enumerate(zip(what, contents, strict=True), start=last + 1):
            entry = Entry(seq, last + 1, day, at, by, one)
            chain = next_chain(chain, line_of(entry, content))
            self._insert_one(entry, content, chain)
            made.append(entry)
            self.chains.append(chain)
        return tuple(made)

    def _insert_one(self, entry: Entry, content: dict[str, Any], chain: bytes) -> None:
        if isinstance(entry.what, Undone):
            self._refuse_undoing(entry.what.act, entry.act)
        attempt = self._attempt(entry)
        try:
            self._connection.execute(queries.INSERT, row_of(entry, content, attempt, chain))
        except sqlite3.IntegrityError as error:
            if error.sqlite_errorcode != sqlite3.SQLITE_CONSTRAINT_UNIQUE:
                raise
            raise AlreadyMarked(self._winner(entry, attempt)) from error

    def _attempt(self, entry: Entry) -> int | None:
        """How often this mark was made and undone before, or how many postings this one continues; None for others."""
        if isinstance(entry.what, Posting):
            return self._continued(entry.what)
        mark = mark_of(entry.day, entry.what)
        if mark is None:
            return None
        found = self._connection.execute(queries.UNDONE_MARKS, (mark.tank, mark.feed, mark.day.toordinal(), mark.round))
        return int(found.fetchone()[0])

    def _continued(self, posting: Posting) -> int | None:
        """How many postings with the same start there are, all of which this one must say again; None for none."""
        start = posting.start.toordinal()
        found = self._connection.execute(queries.POSTED, (start,)).fetchone()
        if found is None:
            return None
        latest = entry_of_row(found)
        if not isinstance(latest.what, Posting) or not posting.continues(latest.what):
            raise AlreadyMarked(latest)
        return int(self._connection.execute(queries.POSTINGS_FROM, (start,)).fetchone()[0])

    def _refuse_undoing(self, act: int, before: int) -> None:
        found = self._connection.execute(queries.ACT_KIND, (act,)).fetchone() if 0 < act < before else None
        if found is None or found[0] in ("posted", "undone"):
            raise LedgerFault(f"There is no act {act} that can be undone.")

    def _winner(self, entry: Entry, attempt: int | None) -> Entry:
        """The entry that stands in the way of one that the store refused."""
        key: tuple[Any, ...]
        if isinstance(entry.what, Undone):
            query, key = queries.UNDO, (entry.what.act,)
        elif isinstance(entry.what, Posting):
            query, key = queries.POSTED, (entry.what.start.toordinal(),)
        else:
            mark = mark_of(entry.day, entry.what)
            query = queries.MARK
            key = (mark.tank, mark.feed, mark.day.toordinal(), mark.round, attempt) if mark else ()
        row = self._connection.execute(query, key).fetchone()
        if row is None:
            raise fault(self._path, f"its index and its entries disagree: {DAMAGED}")
        return entry_of_row(row)
