"""The narrow door to the ledger: what the rest of the program may ask of any store, with no store's own words in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from datetime import date, datetime
from typing import Protocol

from schedules.ledger.entries.plan.posting import Posting
from schedules.ledger.entry import Entry, What


class Ledger(Protocol):
    """An append-only record of a room. Stores raise `LedgerFault` when they fail, never errors of their own."""

    def append(
        self, what: Sequence[What], *, day: date, at: datetime, by: str | None, since: int | None = None
    ) -> tuple[Entry, ...]:
        """Add the entries of one act, all or none, durable on return.

        Raises `AlreadyMarked` where the store already holds a standing mark (a planned serving given or skipped) for
        the same day, round, tank and feed, a posting with the same start that this one does not continue, or an undo of
        the same act; of two processes exactly one succeeds. Servings with `broke` set are extra and never collide.
        A posting and an undo are acts of their own; neither can be undone.

        Where an earlier try failed, nobody may know whether the act was written. With `since`, the number of the
        newest entry known before that try, an act that was is not written again: its entries come back.
        """
        ...

    def read(self, first: date, last: date) -> tuple[Entry, ...]:
        """Every entry about the days `first` to `last` (both included), undone ones and undos too, by `seq`.

        An undo of an act about these days is among them whatever day it was made on, so that `standing` of what is
        read is what stands. Postings are left out: ask `posting` for those.
        """
        ...

    def after(self, seq: int) -> tuple[Entry, ...]:
        """Entries added after the one numbered `seq`, by anyone, postings left out."""
        ...

    def everything(self) -> Iterator[Entry]:
        """Every entry there is, postings and undos too, by `seq`: for copies and checks, never for a screen."""
        ...

    def lines(self) -> Iterator[str]:
        """The line of every entry by `seq`, each in the schema version in which it was written: for copies."""
        ...

    def last_seq(self) -> int:
        """The number of the newest entry, 0 for an empty ledger."""
        ...

    def last_at(self) -> datetime | None:
        """When the newest entry was written (aware, UTC), None for an empty ledger; see `clock.clock_fault`."""
        ...

    def identity(self) -> str:
        """What tells this ledger from every other one, also after the program was closed."""
        ...

    def changed(self) -> bool:
        """Whether another program wrote since the last time this was asked; cheap enough to ask every second."""
        ...

    def last_served(self, before: date) -> Mapping[tuple[str, str], date]:
        """For each (tank, feed) with a standing serving on a day before `before`, the last such day."""
        ...

    def first_served(self) -> Mapping[tuple[str, str], date]:
        """For each (tank, feed) ever given and standing, the first such day."""
        ...

    def last_chores(self, before: date) -> Mapping[tuple[str, str], date]:
        """For each tank ("" for none) and subject of a chore marked on a day before `before`, the last such day."""
        ...

    def of_kind(self, kind: str, after: date | None = None) -> tuple[Entry, ...]:
        """Standing entries of one kind about days after `after` (None: about any day), by `seq`."""
        ...

    def last_of_kind(self, kind: str) -> Entry | None:
        """Of a kind about no tank and no feed, the entry about the latest day (the newest of those)."""
        ...

    def added_late(self, kind: str, seq: int, day: date) -> bool:
        """Whether, after the entry numbered `seq`, one of a kind about `day` or before was added or taken back."""
        ...

    def posting(self, day: date) -> Posting | None:
        """The posting in force on a day: the one with the latest start on or before it (the last of those), or None."""
        ...

    def postings(self, first: date, last: date) -> tuple[Posting, ...]:
        """The postings in force on any of the days `first` to `last`, by start."""
        ...

    def due(self, first: date, last: date) -> tuple[Posting, ...]:
        """The same as `postings`, without days before `first` and those on which a later posting is in force."""
        ...

    def last_act(self, by: str | None = None) -> tuple[Entry, ...]:
        """The entries of the newest standing act that can be undone (no posting, no undo), of one keeper if given."""
        ...

    def moment(self) -> AbstractContextManager[None]:
        """A context in which everything read is of one moment, whatever others write meanwhile. For reading only."""
        ...

    def close(self) -> None:
        """Let go of the store."""
        ...
