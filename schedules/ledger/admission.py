"""What may be written as one act, whatever the store: faults of form are refused before a store is asked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime
from itertools import groupby
from typing import NamedTuple

from schedules.ledger.declaration import kind_of
from schedules.ledger.entry import Entry, LedgerFault, What, subject_of, tank_of
from schedules.ledger.fields import check_text


class Mark(NamedTuple):
    """What can be written only once while it holds: about one day, tank and feed (or chore), in one family of kinds."""

    day: date
    tank: str | None
    feed: str | None
    family: str
    name: str


def mark_of(day: date, what: What) -> Mark | None:
    """The mark an entry makes; None for everything that can be written any number of times."""
    named = kind_of(what).mark(what)
    return None if named is None else Mark(day, tank_of(what), subject_of(what), *named)


def settled(what: What) -> What:
    """The same as it will be read back; `LedgerFault` where it cannot be written down."""
    kind = kind_of(what)
    try:
        made: What = kind.settled(what)
    except ValueError as wrong:
        raise LedgerFault(f"{kind.name}: {wrong}") from None
    return made


def written(later: Iterable[Entry], what: Sequence[What], day: date, at: datetime, by: str | None) -> tuple[Entry, ...]:
    """Of entries, those of the very act that is `admitted` as this; empty where it is not among them."""
    same = [entry for entry in later if (entry.day, entry.at, entry.by) == (day, at, by)]
    acts = (tuple(act) for _, act in groupby(same, key=lambda entry: entry.act))
    return next((act for act in acts if [entry.what for entry in act] == list(what)), ())


def admitted(what: Sequence[What], day: date, at: datetime, by: str | None) -> tuple[tuple[What, ...], datetime]:
    """The act's contents and its instant in UTC, settled; `LedgerFault` says what of it cannot be written down."""
    if at.tzinfo is None:
        raise LedgerFault(f"at: found {at.isoformat()}, allowed is a time with its zone")
    if len(what) > 1 and any(kind_of(one).alone for one in what):
        raise LedgerFault("a posted plan or an undo is an act of its own and cannot be written with others")
    try:
        check_text("by", by or "")
    except ValueError as wrong:
        raise LedgerFault(str(wrong)) from None
    marks = [mark for mark in (mark_of(day, one) for one in what) if mark is not None]
    if len(set(marks)) < len(marks):
        raise LedgerFault("one act marks the same serving twice")
    return tuple(settled(one) for one in what), at.astimezone(UTC)
