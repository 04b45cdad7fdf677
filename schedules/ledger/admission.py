"""What may be written as one act, whatever the store: faults of form are refused before a store is asked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass, replace
from datetime import UTC, date, datetime
from math import isfinite
from typing import Any, NamedTuple, get_args

from schedules.ledger.entries import Acknowledged, LedgerFault, PostedServing, Posting, Served, Skipped, Undone, What
from schedules.ledger.packed import MOST_DAYS
from schedules.room.kinds import Severity

_NUMBERS = ("amount", "amount_mg", "part")


class Mark(NamedTuple):
    """What can be marked only once while the mark stands: one feed for one tank in one round of one day."""

    day: date
    tank: str
    feed: str
    round: str


def mark_of(day: date, what: What) -> Mark | None:
    """The mark an entry makes; None for everything that can be written any number of times."""
    if isinstance(what, Skipped) or (isinstance(what, Served) and what.broke is None):
        return Mark(day, what.tank, what.feed, what.round)
    return None


def _texts(value: Any) -> Iterator[str]:
    """Every text in an entry or a posted serving."""
    values = (getattr(value, field.name) for field in fields(value)) if is_dataclass(value) else (value,)
    return (text for text in values if isinstance(text, str))


def _refuse_unwritable(texts: Iterator[str]) -> None:
    for text in texts:
        try:
            text.encode()
        except UnicodeEncodeError:
            raise LedgerFault(f"{text!r} cannot be written down: it holds characters that are no text.") from None


def _refuse_no_amount(serving: Served | PostedServing) -> None:
    for name in _NUMBERS:
        number = getattr(serving, name)
        if not isfinite(number) or number < 0:
            raise LedgerFault(f"{name} of {serving.feed} for {serving.tank} is {number}; it must be 0 or more.")


def _refuse_no_flag(seen: Acknowledged) -> None:
    if seen.severity not in get_args(Severity):
        allowed = ", ".join(get_args(Severity))
        raise LedgerFault(f"The severity of {seen.flag!r} for {seen.tank} is {seen.severity!r}; allowed: {allowed}.")
    if not seen.flag:
        raise LedgerFault(f"The flag seen for {seen.tank} is not named.")
    if not isfinite(seen.extent) or seen.extent < 0:
        raise LedgerFault(f"extent of {seen.flag!r} for {seen.tank} is {seen.extent}; it must be 0 or more.")


def _settled(what: What) -> What:
    """The same with its numbers as floats, so that what is read back equals what was written."""
    _refuse_unwritable(_texts(what))
    if isinstance(what, Served):
        _refuse_no_amount(what)
        return replace(what, amount=float(what.amount), amount_mg=float(what.amount_mg), part=float(what.part))
    if isinstance(what, Acknowledged):
        _refuse_no_flag(what)
        return replace(what, extent=float(what.extent))
    if isinstance(what, Posting):
        if len(what.days) > MOST_DAYS:
            raise LedgerFault(f"A plan of {len(what.days)} days is too long to post; {MOST_DAYS} is the most.")
        for serving in {serving for day in what.days for serving in day}:
            _refuse_unwritable(_texts(serving))
            _refuse_no_amount(serving)
    return what


def admitted(what: Sequence[What], day: date, at: datetime, by: str | None) -> tuple[tuple[What, ...], datetime]:
    """The act's contents and its instant in UTC, settled; `LedgerFault` says what of it cannot be written down."""
    if at.tzinfo is None:
        raise LedgerFault(f"The time {at.isoformat()} says no zone, so it is no instant.")
    if len(what) > 1 and any(isinstance(one, Posting | Undone) for one in what):
        raise LedgerFault("A posted plan or an undo is an act of its own and cannot be written with others.")
    _refuse_unwritable(_texts(by))
    marks = [mark for mark in (mark_of(day, one) for one in what) if mark is not None]
    if len(set(marks)) < len(marks):
        raise LedgerFault("One act marks the same serving twice.")
    return tuple(_settled(one) for one in what), at.astimezone(UTC)
