"""Every question the store asks of its table. Each reads only what it needs, however long the ledger is."""

from __future__ import annotations

from typing import Final

from schedules.ledger.stores.sqlite.rows import COLUMNS, PLACES

_SELECT: Final = f"SELECT {COLUMNS} FROM entries"
_NOT_UNDONE: Final = "NOT EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.act)"

INSERT: Final = f"INSERT INTO entries VALUES ({PLACES})"
NEWEST: Final = "SELECT seq, chain FROM entries ORDER BY seq DESC LIMIT 1"
TAIL: Final = f"SELECT {COLUMNS}, chain FROM entries ORDER BY seq DESC LIMIT ?"
LAST: Final = f"{_SELECT} ORDER BY seq DESC LIMIT 1"
AFTER: Final = f"{_SELECT} WHERE seq > ? AND kind <> 'posted' ORDER BY seq"
PART: Final = f"{_SELECT} WHERE seq > ? AND seq <= ? ORDER BY seq"
DAYS: Final = f"{_SELECT} INDEXED BY by_day WHERE day BETWEEN ? AND ? AND kind <> 'posted' ORDER BY +seq"
UNDOS: Final = f"{_SELECT} WHERE undoes BETWEEN ? AND ? AND day NOT BETWEEN ? AND ?"
"""Undos, made about other days, of acts within a range of numbers."""

UNDONE_MARKS: Final = (
    "SELECT count(*) FROM entries e WHERE tank = ? AND feed = ? AND day = ? AND round = ? AND attempt IS NOT NULL "
    "AND EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.act)"
)
MARK: Final = f"{_SELECT} WHERE tank = ? AND feed = ? AND day = ? AND round = ? AND attempt = ?"
UNDO: Final = f"{_SELECT} WHERE undoes = ?"
POSTED: Final = f"{_SELECT} WHERE start = ? ORDER BY seq DESC LIMIT 1"
POSTINGS_FROM: Final = "SELECT count(*) FROM entries WHERE start = ?"
ACT_KIND: Final = "SELECT kind FROM entries WHERE seq = ? AND act = seq"

_SERVED: Final = (
    "SELECT tank, feed, (SELECT e.day FROM entries e INDEXED BY mark_once WHERE e.tank = given.tank AND "
    "e.feed = given.feed AND e.round IS NOT NULL AND e.kind = 'served'"
)
LAST_SERVED: Final = f"{_SERVED} AND e.day < ? AND {_NOT_UNDONE} ORDER BY e.day DESC LIMIT 1) FROM given"
FIRST_SERVED: Final = f"{_SERVED} AND {_NOT_UNDONE} ORDER BY e.day LIMIT 1) FROM given"

POSTED_WITHIN: Final = (
    "SELECT start, body FROM entries e WHERE start BETWEEN "
    "coalesce((SELECT max(start) FROM entries WHERE start <= :first), :first) AND :last AND NOT EXISTS "
    "(SELECT 1 FROM entries later WHERE later.start = e.start AND later.seq > e.seq) ORDER BY start"
)
_ACTS: Final = "SELECT act FROM entries e WHERE seq = act AND kind NOT IN ('posted', 'undone')"
LAST_ACT: Final = f"{_ACTS} AND {_NOT_UNDONE} ORDER BY seq DESC LIMIT 1"
LAST_ACT_BY: Final = f"{_ACTS} AND keeper = ? AND {_NOT_UNDONE} ORDER BY seq DESC LIMIT 1"
ACT: Final = (
    f"{_SELECT} WHERE seq >= :act AND seq < coalesce((SELECT seq FROM entries WHERE seq > :act AND act <> :act "
    "ORDER BY seq LIMIT 1), :act + 1000000) ORDER BY seq"
)
