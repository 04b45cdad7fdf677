"""The ledger in one SQLite file: append-only, every act on the disk before `append` returns.

Whether a serving was marked already is decided by a unique index inside the writing transaction, never by a look
beforehand, so any number of programs may share the file.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from itertools import pairwise, zip_longest
from pathlib import Path
from threading import RLock
from typing import Any, Final

from schedules.ledger.admission import admitted
from schedules.ledger.entries import Entry, Posting, Undone, What
from schedules.ledger.lines import content_of, next_chain
from schedules.ledger.packed import unpack
from schedules.ledger.stores.sqlite import queries
from schedules.ledger.stores.sqlite.connection import check_tables, connect, create, version_of
from schedules.ledger.stores.sqlite.faults import DAMAGED, fault, faults_of, faults_of_reading
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.ledger.stores.sqlite.migration import migrate
from schedules.ledger.stores.sqlite.rows import Row, entry_of_row, grow, line_of_row
from schedules.ledger.stores.sqlite.schema import VERSION
from schedules.ledger.stores.sqlite.tail_marker import Witness, bear_witness, beside, refuse_lost_end, witness_of

TAIL: Final = 64
"""How many of the newest entries are checked against their chain whenever a ledger is opened."""
_BATCH: Final = 2000
Values = Sequence[Any] | dict[str, Any]


def open_ledger(path: Path, *, create: bool = True, patience: float = 5.0) -> SqliteLedger:
    """Open the ledger at `path`, making it if it is not there and `create` allows it.

    Waits up to `patience` seconds for other programs. Raises `LedgerFault` for whatever is in the way.
    """
    with faults_of(path):
        if path.is_dir():
            raise fault(path, "this is a directory; a ledger is a file.")
        if not path.exists():
            _make(path, create)
        return SqliteLedger(path, patience)


def _make(path: Path, allowed: bool) -> None:
    if not allowed:
        raise fault(path, "there is no ledger here. Check the path, or open the room once to begin one.")
    try:
        create(path)
    except FileExistsError:
        return  # another program made it first, which is as good


class SqliteLedger:
    """A `Ledger` in a file. Safe to use from several threads; each call is one transaction."""

    def __init__(self, path: Path, patience: float = 5.0) -> None:
        self._path = path
        self._lock = RLock()
        self._depth = 0
        with faults_of(path):
            witness = witness_of(path)
            self._connection = connect(path, patience)
        try:
            with faults_of_reading(path):
                self._prepare(patience, witness)
        except BaseException:
            self._connection.close()
            raise

    def _prepare(self, patience: float, witness: Witness | None) -> None:
        version = version_of(self._path, self._connection)
        refuse_lost_end(self._path, self._connection, witness)
        if version < VERSION:
            migrate(self._path, self._connection, patience)
        check_tables(self._path, self._connection)
        if self._connection.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
            self._connection.execute("PRAGMA journal_mode = WAL")
        self._check_tail()
        self._seen: int = self._connection.execute("PRAGMA data_version").fetchone()[0]
        self._file, self._log = _identity(self._path), _identity(beside(self._path, "-wal"))

    def _check_tail(self) -> None:
        """Refuse a file whose newest entries do not follow from each other; `verify` looks at all of them."""
        rows = self._connection.execute(queries.TAIL, (TAIL,)).fetchall()
        for (*_, before), (*row, chain) in zip(rows[1:], rows, strict=False):
            if next_chain(before, line_of_row(tuple(row))) != chain:
                raise fault(self._path, f"entry {row[0]} is not as it was written: {DAMAGED}")

    # Writing

    def append(self, what: Sequence[What], *, day: date, at: datetime, by: str | None) -> tuple[Entry, ...]:
        """Add the entries of one act, all or none, on the disk on return; see `Ledger.append`."""
        settled, at = admitted(what, day, at, by)
        if not settled:
            return ()
        contents = [content_of(one) for one in settled]
        with self._lock, faults_of_reading(self._path):
            self._refuse_lost_file()
            with self._writing():
                inserter = Inserter(self._connection, self._path)
                made = inserter.insert(settled, contents, day, at, by)
            self._refuse_lost_file()
            bear_witness(self._path, made[-1].seq, inserter.chains[-1])
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
        undos = [undo for undo in late if isinstance(undo.what, Undone) and undo.what.act in acts]
        return tuple(sorted((*found, *undos), key=lambda entry: entry.seq)) if undos else found

    def after(self, seq: int) -> tuple[Entry, ...]:
        """Entries added after the one numbered `seq`, by anyone, postings left out."""
        return self._entries(queries.AFTER, (seq,))

    def everything(self) -> Iterator[Entry]:
        """Every entry up to now, postings and undos too, read in parts so that nobody waits."""
        last, seq = self.last_seq(), 0
        while seq < last:
            part = self._entries(queries.PART, (seq, min(seq + _BATCH, last)))
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

    def changed(self) -> bool:
        """Whether another program wrote since the last time this was asked."""
        now = self._rows("PRAGMA data_version")[0][0]
        before, self._seen = self._seen, now
        return bool(now != before)

    def last_served(self, before: date) -> Mapping[tuple[str, str], date]:
        """For each (tank, feed) the last day before `before` on which it was given."""
        return self._by_pair(queries.LAST_SERVED, (before.toordinal(),))

    def first_served(self) -> Mapping[tuple[str, str], date]:
        """For each (tank, feed) the first day on which it was given."""
        return self._by_pair(queries.FIRST_SERVED, ())

    def _by_pair(self, query: str, values: Sequence[Any]) -> dict[tuple[str, str], date]:
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
            return tuple(unpack(grow(body)) for _, body in self._posted(first, last))

    def due(self, first: date, last: date) -> tuple[Posting, ...]:
        """The postings in force, each cut to the days on which it is, and only those read."""
        rows = self._posted(first, last)
        ends = [later - start for (start, _), (later, _) in pairwise(rows)]
        found = []
        with faults_of_reading(self._path):
            for (start, body), end in zip_longest(rows, ends):
                skipped = max(0, first.toordinal() - start)
                packed = grow(body, first_day_only=(skipped, end) == (0, 1))
                found.append(unpack(packed, skipped, end))
        return tuple(found)

    def _posted(self, first: date, last: date) -> list[Row]:
        """Start and body of the postings in force."""
        return self._rows(queries.POSTED_WITHIN, {"first": first.toordinal(), "last": last.toordinal()})

    def last_act(self, by: str | None = None) -> tuple[Entry, ...]:
        """The entries of the newest standing act that can be undone, of one keeper if given."""
        with self.moment():
            found = self._rows(queries.LAST_ACT if by is None else queries.LAST_ACT_BY, () if by is None else (by,))
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
