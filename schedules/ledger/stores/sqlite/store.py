"""The ledger in one SQLite file: append-only, every act on the disk before `append` returns.

Whether a serving was marked already is decided by a unique index inside the writing transaction, never by a look
beforehand, so any number of programs may share the file.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager
from datetime import date, datetime
from itertools import pairwise, zip_longest
from pathlib import Path
from threading import RLock
from typing import Any, Final, TypeVar

from schedules.ledger.admission import admitted
from schedules.ledger.declaration import Content, kind_named
from schedules.ledger.entries.packed import unpack
from schedules.ledger.entries.posted import CODEC
from schedules.ledger.entries.posting import Posting
from schedules.ledger.entries.served import SERVED
from schedules.ledger.entry import Entry, What
from schedules.ledger.lines import draft_of, next_chain
from schedules.ledger.standing import undone_act
from schedules.ledger.stores.sqlite import queries
from schedules.ledger.stores.sqlite.connection import (
    check_tables,
    connect,
    connect_reading,
    new_ledger,
    read_as_now,
    version_of,
)
from schedules.ledger.stores.sqlite.faults import DAMAGED, READ_ONLY, fault, faults_of, faults_of_reading
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.ledger.stores.sqlite.migration import migrate
from schedules.ledger.stores.sqlite.rows import Row, check_place, entry_of_row, record_of_row
from schedules.ledger.stores.sqlite.schema import VERSION
from schedules.ledger.stores.sqlite.tail_marker import (
    TailMarker,
    accept,
    beside,
    keep_for_repair,
    lost_end,
    marker_of,
    write_marker,
)

TAIL: Final = 64
"""How many of the newest entries are checked against their chain whenever a ledger is opened."""
_BATCH: Final = 2000
T = TypeVar("T")
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
        with new_ledger(path):
            pass
    except FileExistsError:
        return  # another program made it first, which is as good


def accept_lost_end(path: Path, patience: float = 5.0) -> int:
    """Take a ledger that lost its end as it is, on a keeper's word; the number of its entries.

    What was kept of the damaged log stays beside it for a repair. Raises `LedgerFault` as `open_ledger` does.
    """
    with faults_of(path), closing(connect(path, patience)) as connection:
        check_tables(path, connection, version_of(path, connection))
        accept(path, connection)
        return int(connection.execute("SELECT coalesce(max(seq), 0) FROM entries").fetchone()[0])


class SqliteLedger:
    """A `Ledger` in a file. Safe to use from several threads; each call is one transaction."""

    def __init__(self, path: Path, patience: float = 5.0) -> None:
        self._path = path
        self._lock = RLock()
        self._depth = 0
        self._read_only = not os.access(path, os.W_OK)
        with faults_of(path):
            marker = marker_of(path)
            self._connection = (connect_reading if self._read_only else connect)(path, patience)
        try:
            with faults_of_reading(path):
                self._prepare(patience, marker)
        except BaseException:
            self._connection.close()
            raise

    def _prepare(self, patience: float, marker: TailMarker | None) -> None:
        version = version_of(self._path, self._connection)
        lost = lost_end(self._path, self._connection, marker)
        if lost is not None:
            if not self._read_only:
                keep_for_repair(self._path)
            raise lost
        if self._read_only:
            check_tables(self._path, self._connection, version)
            read_as_now(self._connection, version)
        else:
            self._bring_up(version, patience)
        self._check_tail()
        self._seen: int = self._connection.execute("PRAGMA data_version").fetchone()[0]
        self._file, self._log = _identity(self._path), _identity(beside(self._path, "-wal"))

    def _bring_up(self, version: int, patience: float) -> None:
        if version < VERSION:
            migrate(self._path, self._connection, patience)
        check_tables(self._path, self._connection)
        if self._connection.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
            self._connection.execute("PRAGMA journal_mode = WAL")

    def _check_tail(self) -> None:
        """Refuse a file whose newest entries do not follow from each other; `verify` looks at all of them."""
        rows = self._connection.execute(queries.TAIL, (TAIL,)).fetchall()
        for (*_, before), (*row, chain) in zip(rows[1:], rows, strict=False):
            record = record_of_row(tuple(row))
            check_place(tuple(row), record.draft)
            if next_chain(before, record.line) != chain:
                raise fault(self._path, f"entry {row[0]} is not as it was written: {DAMAGED}")

    # Writing

    def append(self, what: Sequence[What], *, day: date, at: datetime, by: str | None) -> tuple[Entry, ...]:
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

    def of_kind(self, kind: str, after: date | None = None) -> tuple[Entry, ...]:
        """Standing entries of one kind about days after `after`, found tank by tank."""
        return self._entries(queries.OF_KIND, {"kind": kind, "after": after.toordinal() if after else 0})

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
            return tuple(unpack(_packed(row)) for row in self._posted(first, last))

    def due(self, first: date, last: date) -> tuple[Posting, ...]:
        """The postings in force, each cut to the days on which it is, and only those read."""
        rows = self._posted(first, last)
        ends = [later[0] - row[0] for row, later in pairwise(rows)]
        found = []
        with faults_of_reading(self._path):
            for row, end in zip_longest(rows, ends):
                skipped = max(0, first.toordinal() - row[0])
                packed = _packed(row, first_day_only=(skipped, end) == (0, 1))
                found.append(unpack(packed, skipped, end))
        return tuple(found)

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


def _packed(row: Row, *, first_day_only: bool = False) -> Content:
    """The packed values of a row of `_posted`, in the newest schema version."""
    _, kind, version, body = row
    content = CODEC.grow(body, first_day_only=first_day_only)
    return kind_named(kind, version).as_now(content, version)


def _identity(path: Path) -> tuple[int, int] | None:
    """Which file a path leads to just now."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino
