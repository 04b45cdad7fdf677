"""An entry as a row of a store's table, and back. The columns beside `body` and `chain` are there to find it by."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from typing import Any, Final, NamedTuple

from schedules.ledger.compact import compact
from schedules.ledger.declaration import Content, kind_named
from schedules.ledger.entry import Entry, What, subject_of, tank_of
from schedules.ledger.lines import Draft, Record, next_chain

Row = tuple[Any, ...]
COLUMNS: Final = "seq, act, day, at, keeper, kind, version, tank, feed, mark, undoes, start, body"
"""What a row is read from; `attempt` and `chain` are the store's own."""
COLUMN_COUNT: Final = 15
PLACES: Final = ", ".join("?" * COLUMN_COUNT)
_EPOCH: Final = datetime(1970, 1, 1, tzinfo=UTC)


class Place(NamedTuple):
    """The columns that an entry is found by: tank and feed or chore ('' for none), mark, act it undoes, start."""

    tank: str
    feed: str
    mark: str | None
    undoes: int | None
    start: int | None


def place_of(draft: Draft) -> Place:
    """Where an entry stands in the table, from what it says."""
    kind, what = draft.kind, draft.what
    mark = kind.mark(what)
    return Place(
        tank_of(what) or "",
        subject_of(what) or "",
        None if mark is None else " ".join(mark),
        kind.undoes(what) if kind.undoes else None,
        kind.start(what).toordinal() if kind.start else None,
    )


def micros(at: datetime) -> int:
    """Microseconds since 1970-01-01 UTC of an aware instant, exactly."""
    return (at - _EPOCH) // timedelta(microseconds=1)


def body_of(draft: Draft) -> str | bytes:
    """The content of an entry as it is kept in the file: its values in order, or the kind's own form."""
    codec = draft.kind.codec
    if codec is None:
        return compact(list(draft.content.values()))
    return codec.shrink(draft.content)


def row_of(entry: Entry, draft: Draft, attempt: int, chain: bytes) -> Row:
    """The row of an entry, every column of the table in order."""
    tank, feed, mark, undoes, start = place_of(draft)
    head = (entry.seq, entry.act, entry.day.toordinal(), micros(entry.at), entry.by, draft.kind.name, draft.version)
    return (*head, tank, feed, mark, attempt, undoes, start, body_of(draft), chain)


def _content(kind_name: str, version: int, body: Any) -> Content:
    kind = kind_named(kind_name, version)
    if kind.codec is not None:
        content: Content = kind.codec.grow(body)
        return content
    if not isinstance(body, str):
        raise ValueError("the body is no text")
    return dict(zip(kind.keys(version), json.loads(body), strict=True))


@lru_cache(maxsize=16384)
def _what(kind_name: str, version: int, body: str) -> What:
    """What a row says; servings repeat themselves, so the same one is made once."""
    what: What = kind_named(kind_name, version).read(_content(kind_name, version, body), version)
    return what


@lru_cache(maxsize=4096)
def _day(ordinal: int) -> date:
    return date.fromordinal(ordinal)


@lru_cache(maxsize=64)
def _instant(microseconds: int) -> datetime:
    """The instant of an act, which all its entries share."""
    return _EPOCH + timedelta(microseconds=microseconds)


def _head(row: Row) -> tuple[int, int, date, datetime, str | None]:
    seq, act, day, at, keeper = row[:5]
    if not isinstance(seq, int) or not isinstance(act, int):
        raise ValueError(f"the act is {act!r}")
    if keeper is not None and not isinstance(keeper, str):
        raise ValueError(f"the keeper is {keeper!r}")
    return seq, act, _day(day), _instant(at), keeper


def record_of_row(row: Row) -> Record:
    """The record in a row of `COLUMNS`, as it was written."""
    kind, version, body = row[5], row[6], row[-1]
    return Record(*_head(row), kind, version, _content(kind, version, body))


def entry_of_row(row: Row) -> Entry:
    """The entry of a row of `COLUMNS`.

    Raises `Malformed`, another ValueError, TypeError, KeyError, IndexError, OverflowError or zlib.error if it is none.
    """
    body = row[-1]
    if isinstance(body, str):
        seq, act, day, at, keeper = _head(row)
        return Entry(seq, act, day, at, keeper, _what(row[5], row[6], body))
    return record_of_row(row).entry


def check_place(row: Row, draft: Draft) -> None:
    """ValueError unless the columns that a row of `COLUMNS` is found by say the same as its body."""
    if row[7:12] != place_of(draft):
        raise ValueError("its columns and its body say different things")
    if draft.kind.codec is not None:
        draft.kind.codec.check(row[-1])


def first_broken(rows: Sequence[Row]) -> int | None:
    """The number of an entry that does not follow from the one before it; None where all do.

    Each row is `COLUMNS` and the chain, the newest first. Raises as `entry_of_row` and `check_place` do.
    """
    for (*_, before), (*columns, chain) in zip(rows[1:], rows, strict=False):
        row = tuple(columns)
        record = record_of_row(row)
        check_place(row, record.draft)
        if next_chain(before, record.line) != chain:
            return record.seq
    return None
