"""An entry as a row of the file's table, and back."""

from __future__ import annotations

import json
import zlib
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from typing import Any, Final

from schedules.ledger.entries import Acknowledged, Entry, Noted, Observed, Posting, Served, Skipped, What
from schedules.ledger.lines import KINDS_OF_ENTRY, compact, line_of, what_of
from schedules.ledger.packed import Packed, pack, unpack

Row = tuple[Any, ...]
COLUMNS: Final = "seq, act, day, at, keeper, kind, tank, feed, round, undoes, start, body"
"""What a row is read from; `attempt` and `chain` are the store's own."""
PLACES: Final = ", ".join("?" * 14)
_NO_PLAN: Final = Posting(date.min, ())
_EPOCH: Final = datetime(1970, 1, 1, tzinfo=UTC)
_SERVED: Final = ("amount", "unit", "amount_mg", "share", "planned", "broke")
_ACKNOWLEDGED: Final = ("flag", "severity", "extent")
_IN_BODY: Final = {"served": _SERVED, "acknowledged": _ACKNOWLEDGED}


def micros(at: datetime) -> int:
    """Microseconds since 1970-01-01 UTC of an aware instant, exactly."""
    return (at - _EPOCH) // timedelta(microseconds=1)


def shrink(packed: Packed) -> bytes:
    """A packed posting as it is kept in the file: its first day by itself, then all of it.

    The first day is all that is ever asked of a posting once there is one for the day after.
    """
    return b"".join(zlib.compress(compact(part).encode()) for part in (_first_day(packed), packed))


def _first_day(packed: Packed) -> Packed:
    return pack(unpack(packed, 0, 1))


def grow(body: bytes, *, first_day_only: bool = False) -> Packed:
    """A packed posting from the file; ValueError, TypeError or zlib.error where it is none."""
    first = zlib.decompressobj()
    data = first.decompress(body)
    if not first.eof:
        raise ValueError("a posted plan is cut short")
    packed: Packed = json.loads(data if first_day_only else zlib.decompress(first.unused_data))
    return packed


def row_of(entry: Entry, content: dict[str, Any], attempt: int | None, chain: bytes) -> Row:
    """The row of an entry whose `lines.content_of` is given, every column of the table in order."""
    what = entry.what
    tank, feed, round_id, undoes, start, body = _columns(what, content)
    head = (entry.seq, entry.act, entry.day.toordinal(), micros(entry.at), entry.by, KINDS_OF_ENTRY[type(what)])
    return (*head, tank, feed, round_id, attempt, undoes, start, body, chain)


def _columns(what: What, content: dict[str, Any]) -> Row:
    """Tank, feed, round, undoes, start and body."""
    if isinstance(what, Served):
        return what.tank, what.feed, what.round, None, None, _values(what, _SERVED)
    if isinstance(what, Skipped):
        return what.tank, what.feed, what.round, None, None, what.because
    if isinstance(what, Observed):
        return what.tank, what.feed, None, None, None, what.leftovers
    if isinstance(what, Noted):
        return what.tank, None, None, None, None, what.text
    if isinstance(what, Acknowledged):
        return what.tank, what.feed, None, None, None, _values(what, _ACKNOWLEDGED)
    if isinstance(what, Posting):
        return None, None, None, None, what.start.toordinal(), shrink(content)
    return None, None, None, what.act, None, None


def _values(what: What, names: Sequence[str]) -> str:
    """Some fields of an entry, in the order of their names."""
    return compact([getattr(what, "part" if name == "share" else name) for name in names])


@lru_cache(maxsize=16384)
def _what(kind: str, tank: str | None, feed: str | None, round_id: str | None, body: Any) -> What:
    """What a row holds; servings repeat themselves, so the same one is made once."""
    if kind in _IN_BODY:
        values = dict(zip(_IN_BODY[kind], json.loads(body), strict=True))
        return what_of(kind, values | {"tank": tank, "feed": feed, "round": round_id})
    named = {"skipped": "because", "observed": "leftovers", "noted": "text"}[kind]
    return what_of(kind, {"tank": tank, "feed": feed, "round": round_id, named: body})


@lru_cache(maxsize=4096)
def _day(ordinal: int) -> date:
    return date.fromordinal(ordinal)


@lru_cache(maxsize=64)
def _instant(microseconds: int) -> datetime:
    """The instant of an act, which all its entries share."""
    return _EPOCH + timedelta(microseconds=microseconds)


def line_of_row(row: Row) -> str:
    """The line of the entry in a row, without unfolding a posted plan; raises like `entry_of_row`."""
    if row[5] != "posted":
        return line_of(entry_of_row(row))
    seq, act, day, at, keeper = row[:5]
    return line_of(Entry(seq, act, _day(day), _instant(at), keeper, _NO_PLAN), grow(row[-1]))


def entry_of_row(row: Row) -> Entry:
    """The entry of a row of `COLUMNS`; ValueError, TypeError, KeyError, OverflowError, zlib.error if it is none."""
    seq, act, day, at, keeper, kind, tank, feed, round_id, undoes, start, body = row
    if kind == "undone":
        what: What = what_of(kind, {"undoes": undoes})
    elif kind == "posted":
        packed = grow(body)
        what = what_of(kind, packed)
        if grow(body, first_day_only=True) != _first_day(packed):
            raise ValueError("a posted plan and its first day differ")
        if not isinstance(what, Posting) or what.start.toordinal() != start:
            raise ValueError("a posted plan starts on another day than its row says")
    else:
        what = _what(kind, tank, feed, round_id, body)
    if not isinstance(seq, int) or not isinstance(act, int):
        raise ValueError(f"the act is {act!r}")
    if keeper is not None and not isinstance(keeper, str):
        raise ValueError(f"the keeper is {keeper!r}")
    return Entry(seq, act, _day(day), _instant(at), keeper, what)
