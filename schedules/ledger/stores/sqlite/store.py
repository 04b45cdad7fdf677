"""The ledger in one SQLite file: append-only, every act on the disk before `append` returns.

Whether a serving was marked already is decided by a unique index inside the writing transaction, never by a look
beforehand, so any number of programs may share the file.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from threading import RLock
from typing import Any, Final, TypeVar

from schedules.ledger.admission import admitted, written
from schedules.ledger.entries.chores.chore import CHORE
from schedules.ledger.entries.plan.posting import Posting
from schedules.ledger.entries.served import SERVED
from schedules.ledger.entry import Entry, What
from schedules.ledger.lines import draft_of
from schedules.ledger.standing import undone_act
from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.postings import due_postings, whole_postings
from schedules.ledger.stores.rows import Row, entry_of_row, record_of_row
from schedules.ledger.stores.sqlite import queries
from schedules.ledger.stores.sqlite.faults import READ_ONLY, faults_of, faults_of_reading
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.ledger.stores.sqlite.opening import make_where_missing, prepared
from schedules.ledger.stores.sqlite.tail_marker import beside, write_marker

_BATCH: Final = 2000
T = TypeVar("T")
Values = Sequence[Any] | dict[str, Any]


def open_ledger(path: Path, *, create: bool = True, patience: float = 5.0) -> SqliteLedger:
    """Open the ledger at `path`, making it if it is not there and `create` allows it.

    Waits up to `patience` seconds for other programs. Raises `LedgerFault` for whatever is in the way, and `LostEnd`
    where the entries written last are missing and no keeper accepted that.
    """
    make_where_missing(path, allowed=create)
    return SqliteLedger(path, patience)


class SqliteLedger:
    """A `Ledger` in a file. Safe to use from several threads; each call is one transaction."""

    def __init__(self, path: Path, patience: float = 5.0) -> None:
        self._path = path
        self._lock = RLock()
        self._depth = 0
        self._read_only = not os.access(path, os.W_OK)
        self._connection = prepared(path, patience, read_only=self._read_only)
        with faults_of(path):
            self._seen: int = self._connection.execute("PRAGMA data_version").fetchone()[0]
            self._file, self._log = _identity(path), _identity(beside(path, "-wal"))

    # Writing

    def append(
        self, what: Sequence[What], *, day: date, at: datetime, by: str | None, since: int | None = None
    ) -> tuple[Entry, ...]:
        """Add the entries of one act, all or none, on the disk on return; see `Ledger.append`."""
        settled, at = admitted(what, day, at, by)
        if not settled:
            return ()
        drafts = [draft_of(one) for one in settled]
        if self._read_only:
            raise fault(self._path, READ_ONLY)
        with self._lock, faults_of_reading(self._path):
            self._refuse_lost_file()
            with self._writing():
                there = written(self.after(since), settled, day, at, by) if since is not None else ()
                if there:
                    return there
                inserter = Inserter(self._connection, self._path)
                made = inserter.insert(drafts, day, at, by)
            self._refuse_lost_file()
            write_marker(self._path, made[-1].seq, inserter.chains[-1])
        return made

    @contextmanager
    def _writing(self) -> Iterator[None]:
        self._connection.execute("BEGIN IMMEDIATE")
        try:
            yield
            self._connection.execute("COMMIT")
        except BaseException:
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")
            raise

    def _refuse_lost_file(self) -> None:
        """A fault where the file or its log was removed or replaced: what is written to it then would be lost."""
        if self._log is None:
            self._log = _identity(beside(self._path, "-wal"))
        if _identity(self._path) != self._file or _identity(beside(self._path, "-wal")) != self._log:
            raise fault(
                self._path,
                "the file was moved, removed or replaced while it was open, so the last mark may be lost. Bring it "
                "back with the -wal file beside it, or open the room again.",
            )

    def setting(self, name: str) -> int | str:
        """A setting that is in force on the connection, by its SQLite name."""
        found: int | str = self._rows(f"PRAGMA {name}")[0][0]
        return found

    # Reading

    def _entries(self, query: str, values: Values = ()) -> tuple[Entry, ...]:
        with self._lock, faults_of_reading(self._path):
            return tuple(map(entry_of_row, self._connection.execute(query, values).fetchall()))

    def _rows(self, query: str, values: Values = ()) -> list[Row]:
        with self._lock, faults_of(self._path):
            return self._connection.execute(query, values).fetchall()

    def read(self, first: date, last: date) -> tuple[Entry, ...]:
        """Every entry about the days, and every undo of one of them; see `Ledger.read`."""
        days = (first.toordinal(), last.toordinal())
        with self.moment():
            found = self._entries(queries.DAYS, days)
            acts = {entry.act for entry in found}
            if not acts:
                return found
            late = self._entries(queries.UNDOS, (min(acts), max(acts), *days))
        undos = [undo for undo in late if undone_act(undo) in acts]
        return tuple(sorted((*found, *undos), key=lambda entry: entry.seq)) if undos else found

    def after(self, seq: int) -> tuple[Entry, ...]:
        """Entries added after the one numbered `seq`, by anyone, postings left out."""
        return self._entries(queries.AFTER, (seq,))

    def everything(self) -> Iterator[Entry]:
        """Every entry up to now, postings and undos too."""
        return self._each(entry_of_row)

    def lines(self) -> Iterator[str]:
        """The line of every entry up to now, as it was written."""
        return self._each(lambda row: record_of_row(row).line)

    def _each(self, made: Callable[[Row], T]) -> Iterator[T]:
        """Something of every row up to now, read in parts so that nobody waits."""
        last, seq = self.last_seq(), 0
        while seq < last:
            with self._lock, faults_of_reading(self._path):
                rows = self._connection.execute(queries.PART, (seq, min(seq + _BATCH, last))).fetchall()
                part = [made(row) for row in rows]
            yield from part
            seq += _BATCH

    def last_seq(self) -> int:
        """The number of the newest entry, 0 for an empty ledger."""
        found = self._rows(queries.NEWEST)
        return int(found[0][0]) if found else 0

    def last_at(self) -> datetime | None:
        """When the newest entry was written."""
        found = self._entries(queries.LAST)
        return found[0].at if found else None

    def identity(self) -> str:
        """The file's place and the chain of its first entry: another ledger may come to lie in the same place."""
        found = self._rows(queries.FIRST_CHAIN)
        return f"{self._path.absolute()}:{found[0][0].hex() if found else ''}"

    def changed(self) -> bool:
        """Whether another program wrote since the last time this was asked."""
        now = self._rows("PRAGMA data_version")[0][0]
        before, self._seen = self._seen, now
        return bool(now != before)

    def last_served(self, before: date) -> Mapping[tuple[str, str], date]:
        """For each (tank, feed) the last day before `before` on which it was given."""
        return self._by_pair(queries.LAST_DAYS, {"kind": SERVED.name, "before": before.toordinal()})

    def first_served(self) -> Mapping[tuple[str, str], date]:
        """For each (tank, feed) the first day on which it was given."""
        return self._by_pair(queries.FIRST_DAYS, {"kind": SERVED.name})

    def last_chores(self, before: date) -> Mapping[tuple[str, str], date]:
        """For each tank ("" for none) and subject of a chore the last day before `before` on which it was marked."""
        return self._by_pair(queries.LAST_DAYS, {"kind": CHORE.name, "before": before.toordinal()})

    def of_kind(self, kind: str, after: date | None = None) -> tuple[Entry, ...]:
        """Standing entries of one kind about days after `after`, found tank by tank."""
        return self._entries(queries.OF_KIND, {"kind": kind, "after": after.toordinal() if after else 0})

    def last_of_kind(self, kind: str) -> Entry | None:
        """Of a kind about no tank and no feed, the entry about the latest day."""
        return next(iter(self._entries(queries.LAST_OF_KIND, {"kind": kind})), None)

    def added_late(self, kind: str, seq: int, day: date) -> bool:
        """Whether one of a kind about `day` or before was added or taken back since."""
        return bool(self._rows(queries.LATE, {"kind": kind, "seq": seq, "day": day.toordinal()})[0][0])

    def _by_pair(self, query: str, values: Values) -> dict[tuple[str, str], date]:
        with faults_of_reading(self._path):
            rows = self._rows(query, values)
            return {(tank, feed): date.fromordinal(day) for tank, feed, day in rows if day is not None}

    def posting(self, day: date) -> Posting | None:
        """The posting in force on a day."""
        found = self.postings(day, day)
        return found[0] if found else None

    def postings(self, first: date, last: date) -> tuple[Posting, ...]:
        """The postings in force on any of the days, by start."""
        with faults_of_reading(self._path):
            return whole_postings(self._posted(first, last))

    def due(self, first: date, last: date) -> tuple[Posting, ...]:
        """The postings in force, each cut to the days on which it is, and only those read."""
        with faults_of_reading(self._path):
            return due_postings(self._posted(first, last), first)

    def _posted(self, first: date, last: date) -> list[Row]:
        """Start, kind, schema version and body of the postings in force."""
        return self._rows(queries.POSTED_WITHIN, {"first": first.toordinal(), "last": last.toordinal()})

    def last_act(self, by: str | None = None) -> tuple[Entry, ...]:
        """The entries of the newest standing act that can be undone, of one keeper if given."""
        with self.moment():
            found = self._rows(*queries.last_act(by))
            return self._entries(queries.ACT, {"act": found[0][0]}) if found else ()

    @contextmanager
    def moment(self) -> Iterator[None]:
        """Everything read within is of one moment, whatever others write meanwhile."""
        with self._lock:
            if self._depth == 0:
                with faults_of(self._path):
                    self._connection.execute("BEGIN")
            self._depth += 1
            try:
                yield
            finally:
                self._depth -= 1
                if self._depth == 0 and self._connection.in_transaction:
                    with faults_of(self._path):
                        self._connection.execute("COMMIT")

    def close(self) -> None:
        """Let go of the file."""
        with self._lock, faults_of(self._path):
            self._connection.close()


def _identity(path: Path) -> tuple[int, int] | None:
    """Which file a path leads to just now."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino
