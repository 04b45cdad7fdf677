"""The ledger in a PostgreSQL database: append-only, every act on the server's disk before `append` returns.

Whether a serving was marked already is decided by unique indexes inside the writing transaction, as in a file. Writers
take turns by an advisory lock, which any user may take; who takes none is stopped by the indexes all the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from datetime import date, datetime
from threading import RLock
from typing import Any, Final, TypeVar

import psycopg

from schedules.ledger.admission import admitted
from schedules.ledger.entries.chores.chore import CHORE
from schedules.ledger.entries.plan.posting import Posting
from schedules.ledger.entries.served import SERVED
from schedules.ledger.entry import Entry, LedgerFault, What
from schedules.ledger.lines import draft_of
from schedules.ledger.standing import undone_act
from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.postgres import queries
from schedules.ledger.stores.postgres.faults import IN_DOUBT, NOT_WRITTEN, faults_of
from schedules.ledger.stores.postgres.inserting import Writing
from schedules.ledger.stores.postgres.line import Line
from schedules.ledger.stores.postgres.opening import prepare
from schedules.ledger.stores.postgres.rows import plain, plain_rows
from schedules.ledger.stores.postings import due_postings, whole_postings
from schedules.ledger.stores.rows import Row, entry_of_row, record_of_row
from schedules.room.place import Server

_BATCH: Final = 2000
_TRIES: Final = 7
_IN_TURN: Final = 2
"""From this try on nobody may write between an act's look and its rows: with many writers each gets its turn."""
_AGAIN: Final = (
    psycopg.errors.UniqueViolation,
    psycopg.errors.SerializationFailure,
    psycopg.errors.DeadlockDetected,
)
"""What the server says where another writer came between: tried again, the act meets what that one wrote."""
_MOMENT: Final = "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY"
T = TypeVar("T")
Values = Sequence[Any] | dict[str, Any]


def open_server(server: Server, *, create: bool = True, patience: float = 5.0) -> PostgresLedger:
    """Open the ledger on a server, making its tables if they are not there and `create` allows it.

    Waits up to `patience` seconds for other programs and for answers. Raises `LedgerFault` for whatever is in the way.
    """
    line = Line(server, patience)
    try:
        with faults_of(server):
            identity = prepare(server, line.open(), create=create)
    except BaseException:
        line.close()
        raise
    return PostgresLedger(line, identity)


class PostgresLedger:
    """A `Ledger` on a server. Safe to use from several threads; a line that was cut is opened again by itself."""

    def __init__(self, line: Line, identity: str) -> None:
        self._line = line
        self._server = line.server
        self._identity = identity
        self._lock = RLock()
        self._depth = 0

    # Writing

    def append(
        self, what: Sequence[What], *, day: date, at: datetime, by: str | None, since: int | None = None
    ) -> tuple[Entry, ...]:
        """Add the entries of one act, all or none, on the server's disk on return; see `Ledger.append`."""
        settled, at = admitted(what, day, at, by)
        if not settled:
            return ()
        writing = Writing(tuple(draft_of(one) for one in settled), day, at, by, since)
        with self._lock, faults_of(self._server):
            return self._write(writing)

    def _write(self, writing: Writing) -> tuple[Entry, ...]:
        tried = writing.since
        refused: psycopg.Error = psycopg.OperationalError()
        for number in range(_TRIES):
            try:
                connection = self._line.live()
            except LedgerFault as no_line:
                raise fault(self._server, NOT_WRITTEN if writing.since == tried else IN_DOUBT) from no_line
            try:
                return writing.write(connection, turn_first=number >= _IN_TURN)
            except _AGAIN as error:
                refused = error
            except psycopg.OperationalError as error:
                if not connection.closed:
                    raise
                refused = error
                writing.since = writing.ending if writing.since is None else writing.since
        raise refused

    # Reading

    def _rows(self, query: str, values: Values = ()) -> list[Row]:
        """What a question comes to; asked once more over another line where the line was cut meanwhile."""
        with self._lock, faults_of(self._server):
            connection = self._line.live()
            try:
                return connection.execute(query, values).fetchall()
            except psycopg.OperationalError:
                if not connection.closed or self._depth:
                    raise
                return self._line.live().execute(query, values).fetchall()

    def _entries(self, query: str, values: Values = ()) -> tuple[Entry, ...]:
        with faults_of(self._server):
            return tuple(map(entry_of_row, plain_rows(self._rows(query, values))))

    def read(self, first: date, last: date) -> tuple[Entry, ...]:
        """Every entry about the days, and every undo of one of them; see `Ledger.read`."""
        found = self._entries(queries.DAYS, {"first": first.toordinal(), "last": last.toordinal()})
        acts = {entry.act for entry in found if first <= entry.day <= last}
        return tuple(entry for entry in found if first <= entry.day <= last or undone_act(entry) in acts)

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
        """Something of every row up to now, read in parts."""
        last, seq = self.last_seq(), 0
        while seq < last:
            with faults_of(self._server):
                rows = self._rows(queries.PART, (seq, min(seq + _BATCH, last)))
                part = [made(row) for row in plain_rows(rows)]
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
        """What the database calls this ledger, wherever the server is reached."""
        return f"server:{self._identity}"

    def changed(self) -> bool:
        """Whether another program wrote since the last time this was asked: the server says so, nothing is asked."""
        with self._lock, faults_of(self._server):
            connection = self._line.live()
            own = connection.info.backend_pid
            heard = [each for each in connection.notifies(timeout=0) if each.pid != own]
            renewed, self._line.renewed = self._line.renewed, False
            return renewed or bool(heard)

    def last_served(self, before: date) -> Mapping[tuple[str, str], date]:
        """For each (tank, feed) the last day before `before` on which it was given."""
        return self._by_pair(queries.LAST_DAYS, {"kind": SERVED.name, "before": before.toordinal()})

    def first_served(self) -> Mapping[tuple[str, str], date]:
        """For each (tank, feed) the first day on which it was given."""
        return self._by_pair(queries.FIRST_DAYS, {"kind": SERVED.name})

    def last_chores(self, before: date) -> Mapping[tuple[str, str], date]:
        """For each tank ("" for none) and subject of a chore the last day before `before` on which it was marked."""
        return self._by_pair(queries.LAST_DAYS, {"kind": CHORE.name, "before": before.toordinal()})

    def _by_pair(self, query: str, values: Values) -> dict[tuple[str, str], date]:
        with faults_of(self._server):
            rows = self._rows(query, values)
            return {
                (plain(tank) or "", plain(feed) or ""): date.fromordinal(day)
                for tank, feed, day in rows
                if day is not None
            }

    def of_kind(self, kind: str, after: date | None = None) -> tuple[Entry, ...]:
        """Standing entries of one kind about days after `after`, found tank by tank."""
        return self._entries(queries.OF_KIND, {"kind": kind, "after": after.toordinal() if after else 0})

    def last_of_kind(self, kind: str) -> Entry | None:
        """Of a kind about no tank and no feed, the entry about the latest day."""
        return next(iter(self._entries(queries.LAST_OF_KIND, (kind,))), None)

    def added_late(self, kind: str, seq: int, day: date) -> bool:
        """Whether one of a kind about `day` or before was added or taken back since."""
        return bool(self._rows(queries.LATE, {"kind": kind, "seq": seq, "day": day.toordinal()})[0][0])

    def posting(self, day: date) -> Posting | None:
        """The posting in force on a day."""
        found = self.postings(day, day)
        return found[0] if found else None

    def postings(self, first: date, last: date) -> tuple[Posting, ...]:
        """The postings in force on any of the days, by start."""
        with faults_of(self._server):
            return whole_postings(self._posted(first, last))

    def due(self, first: date, last: date) -> tuple[Posting, ...]:
        """The postings in force, each cut to the days on which it is, and only those read."""
        with faults_of(self._server):
            return due_postings(self._posted(first, last), first)

    def _posted(self, first: date, last: date) -> list[Row]:
        """Start, kind, schema version and body of the postings in force."""
        return self._rows(queries.POSTED_WITHIN, {"first": first.toordinal(), "last": last.toordinal()})

    def last_act(self, by: str | None = None) -> tuple[Entry, ...]:
        """The entries of the newest standing act that can be undone, of one keeper if given."""
        return self._entries(*queries.last_act(by))

    @contextmanager
    def moment(self) -> Iterator[None]:
        """Everything read within is of one moment, whatever others write meanwhile."""
        with self._lock:
            if self._depth == 0:
                self._rows_without_answer(_MOMENT)
            self._depth += 1
            try:
                yield
            finally:
                self._depth -= 1
                if self._depth == 0 and not self._line.cut:
                    with suppress(psycopg.Error):  # nothing was written in it
                        self._line.live().execute("COMMIT")

    def _rows_without_answer(self, statement: str) -> None:
        with faults_of(self._server):
            connection = self._line.live()
            try:
                connection.execute(statement)
            except psycopg.OperationalError:
                if not connection.closed:
                    raise
                self._line.live().execute(statement)

    def close(self) -> None:
        """Let go of the server."""
        with self._lock:
            self._line.close()
