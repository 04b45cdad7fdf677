"""Writing one act: a look at what holds, and the rows in a transaction in which nobody else writes.

Two exchanges with the server, however many entries the act has; while one has its turn, it waits for no program.
The unique indexes decide: where somebody wrote between the two, the number of the first row is taken, the server
refuses, and the caller tries again and finds who it was.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, NamedTuple

import psycopg

from schedules.ledger.admission import written
from schedules.ledger.declaration import kind_named
from schedules.ledger.entry import AlreadyMarked, Entry, LedgerFault
from schedules.ledger.lines import FIRST_CHAIN, Draft, next_chain, record_of
from schedules.ledger.stores.postgres import queries
from schedules.ledger.stores.postgres.line import PatientConnection
from schedules.ledger.stores.postgres.rows import kept, kept_row, plain_row, plain_rows
from schedules.ledger.stores.rows import Place, entry_of_row, place_of, row_of

Found = psycopg.Cursor[tuple[Any, ...]]


class _Seen(NamedTuple):
    """The newest entry's number and chain, each draft's attempt; the act itself where it is `there` already."""

    last: int
    chain: bytes
    attempts: list[int]
    there: tuple[Entry, ...] = ()


@dataclass(slots=True)
class Writing:
    """One act on its way into the ledger.

    `since` is the number of the newest entry known before the first try that may have written it, None where none may.
    `ending` is the same of this try, from when its transaction was to end.
    """

    drafts: tuple[Draft, ...]
    day: date
    at: datetime
    by: str | None
    since: int | None = None
    ending: int | None = None

    def write(self, connection: PatientConnection, *, turn_first: bool) -> tuple[Entry, ...]:
        """Write the act; `AlreadyMarked` as in `Ledger.append`, an error of the driver where the server refuses.

        With `turn_first` nobody writes between the look and the rows. Without, somebody may: then the number of the
        first row is taken, and the server refuses.
        """
        self.ending = None
        if turn_first or self.since is not None:
            with connection.pipeline(), connection.transaction():
                connection.execute(queries.LOCK)
                return self._insert(connection, self._look(connection))
        with connection.pipeline():
            seen = self._look(connection)
        with connection.pipeline(), connection.transaction():
            connection.execute(queries.LOCK)
            return self._insert(connection, seen)

    def _insert(self, connection: PatientConnection, seen: _Seen) -> tuple[Entry, ...]:
        if seen.there:
            return seen.there
        made, rows = self._rows(seen)
        with connection.cursor() as cursor:
            cursor.executemany(queries.INSERT, rows)
        self.ending = seen.last
        return made

    def _look(self, connection: PatientConnection) -> _Seen:
        """What the act meets; the newest entry is asked for first, so that nothing later passes unseen."""
        newest = connection.execute(queries.NEWEST)
        later = None if self.since is None else connection.execute(queries.AFTER, (self.since,))
        places = [place_of(draft) for draft in self.drafts]
        marks = self._ask_marks(connection, places)
        alone = _Alone(connection, self.drafts[0], places[0]) if len(places) == 1 else None
        last, chain = newest.fetchone() or (0, FIRST_CHAIN)
        if later is not None:
            entries = map(entry_of_row, plain_rows(later.fetchall()))
            there = written(entries, [draft.what for draft in self.drafts], self.day, self.at, self.by)
            if there:
                return _Seen(last, chain, [], there)
        attempts = self._attempts(connection, places, marks)
        if alone is not None:
            attempts[0] += alone.attempt(last)
        return _Seen(last, chain, attempts)

    def _ask_marks(self, connection: PatientConnection, places: list[Place]) -> Found | None:
        marked = [place for place in places if place.mark is not None]
        if not marked:
            return None
        names = [[kept(place.tank) for place in marked], [kept(place.feed) for place in marked]]
        return connection.execute(
            queries.MARKS, (*names, [self.day.toordinal()] * len(marked), [kept(place.mark) for place in marked])
        )

    def _attempts(self, connection: PatientConnection, places: list[Place], marks: Found | None) -> list[int]:
        """How often each mark was made and undone before; `AlreadyMarked` where one holds."""
        found = iter([] if marks is None else marks.fetchall())
        attempts = []
        for place in places:
            undone, holds = (0, None) if place.mark is None else next(found)[1:]
            if holds is not None:
                raise AlreadyMarked(_entry(connection.execute(queries.ENTRY, (holds,))))
            attempts.append(undone)
        return attempts

    def _rows(self, seen: _Seen) -> tuple[tuple[Entry, ...], list[tuple[Any, ...]]]:
        made, rows, chain = [], [], seen.chain
        for seq, (draft, attempt) in enumerate(zip(self.drafts, seen.attempts, strict=True), start=seen.last + 1):
            entry = Entry(seq, seen.last + 1, self.day, self.at, self.by, draft.what)
            chain = next_chain(chain, record_of(entry, draft).line)
            made.append(entry)
            rows.append(kept_row(row_of(entry, draft, attempt, chain)))
        return tuple(made), rows


class _Alone:
    """What an undo or a plan, each an act of its own, must be asked for."""

    def __init__(self, connection: PatientConnection, draft: Draft, place: Place) -> None:
        self._draft, self._place = draft, place
        self._asked: list[Found] = []
        if place.undoes is not None:
            self._asked = [connection.execute(query, (place.undoes,)) for query in (queries.ACT_KIND, queries.UNDO)]
        elif place.start is not None:
            self._asked = [connection.execute(query, (place.start,)) for query in (queries.STARTS, queries.STARTED)]

    def attempt(self, last: int) -> int:
        """How many entries with the same start this one continues, 0 for all else; refused as in `Ledger.append`."""
        if not self._asked:
            return 0
        first = self._asked[0].fetchone()
        other = self._asked[1].fetchone()
        if self._place.undoes is not None:
            self._check_undo(first, last)
        found = None if other is None else entry_of_row(plain_row(other))
        if found is not None and not self._continues(found):
            raise AlreadyMarked(found)
        return int(first[0]) if self._place.start is not None and first is not None else 0

    def _check_undo(self, kind: tuple[Any, ...] | None, last: int) -> None:
        act = self._place.undoes
        if kind is None or act is None or not 0 < act <= last or not kind_named(kind[0]).undoable:
            raise LedgerFault(f"there is no act {act} that can be undone")

    def _continues(self, found: Entry) -> bool:
        if self._place.start is None or type(found.what) is not type(self._draft.what):
            return False
        return self._draft.kind.continues(self._draft.what, found.what)


def _entry(found: Found) -> Entry:
    row = found.fetchone()
    if row is None:
        raise ValueError("an entry is not where the index says")
    return entry_of_row(plain_row(row))
