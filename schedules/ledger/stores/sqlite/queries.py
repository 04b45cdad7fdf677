"""Every question the store asks of its table. Each reads only what it needs, however long the ledger is."""

from __future__ import annotations

from typing import Final

from schedules.ledger.declaration import kinds
from schedules.ledger.stores.rows import COLUMNS, PLACES

_SELECT: Final = f"SELECT {COLUMNS} FROM entries"
_NOT_UNDONE: Final = "NOT EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.act)"

INSERT: Final = f"INSERT INTO entries VALUES ({PLACES})"
NEWEST: Final = "SELECT seq, chain FROM entries ORDER BY seq DESC LIMIT 1"
FIRST_CHAIN: Final = "SELECT chain FROM entries WHERE seq = 1"
TAIL: Final = f"SELECT {COLUMNS}, chain FROM entries ORDER BY seq DESC LIMIT ?"
LAST: Final = f"{_SELECT} ORDER BY seq DESC LIMIT 1"
AFTER: Final = f"{_SELECT} WHERE seq > ? AND start IS NULL ORDER BY seq"
PART: Final = f"{_SELECT} WHERE seq > ? AND seq <= ? ORDER BY seq"
ALL_CHAINED: Final = f"SELECT {COLUMNS}, chain FROM entries ORDER BY seq"
DAYS: Final = f"{_SELECT} WHERE day BETWEEN ? AND ? AND start IS NULL ORDER BY +seq"
UNDOS: Final = f"{_SELECT} WHERE undoes BETWEEN ? AND ? AND day NOT BETWEEN ? AND ?"
"""Undos, made about other days, of acts within a range of numbers."""

_SAME_MARK: Final = "tank = ? AND feed = ? AND day = ? AND mark = ?"
UNDONE_MARKS: Final = (
    f"SELECT count(*) FROM entries e WHERE {_SAME_MARK} AND EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.act)"
)
MARK: Final = f"{_SELECT} WHERE {_SAME_MARK} AND attempt = ?"
UNDO: Final = f"{_SELECT} WHERE undoes = ?"
STARTED: Final = f"{_SELECT} WHERE start = ? ORDER BY attempt DESC LIMIT 1"
STARTS: Final = "SELECT count(*) FROM entries WHERE start = ?"
ACT_KIND: Final = "SELECT kind FROM entries WHERE seq = ? AND act = seq"

# Each (tank, feed) of a kind, found by two looks into the index for each, not by reading the entries between: the next
# feed of the same tank, else the first feed of the next tank. (A comparison of both at once reads all of the tank.)
_NEXT: Final = (
    "(SELECT n.seq FROM entries e CROSS JOIN entries n WHERE e.seq = pair.seq AND n.kind = :kind AND {} "
    "ORDER BY n.tank, n.feed LIMIT 1)"
)
_PAIRS: Final = (
    "WITH RECURSIVE pair (seq) AS (SELECT (SELECT seq FROM entries WHERE kind = :kind ORDER BY tank, feed LIMIT 1) "
    f"UNION ALL SELECT coalesce({_NEXT.format('n.tank = e.tank AND n.feed > e.feed')}, "
    f"{_NEXT.format('n.tank > e.tank')}) FROM pair WHERE pair.seq IS NOT NULL) "
)
_OF_PAIR: Final = "FROM entries e WHERE e.kind = :kind AND e.tank = p.tank AND e.feed = p.feed"
_FROM_PAIRS: Final = "FROM pair JOIN entries p ON p.seq = pair.seq"
LAST_DAYS: Final = (
    f"{_PAIRS} SELECT p.tank, p.feed, (SELECT e.day {_OF_PAIR} AND e.day < :before AND {_NOT_UNDONE} "
    f"ORDER BY e.day DESC LIMIT 1) {_FROM_PAIRS}"
)
FIRST_DAYS: Final = (
    f"{_PAIRS} SELECT p.tank, p.feed, (SELECT e.day {_OF_PAIR} AND {_NOT_UNDONE} ORDER BY e.day LIMIT 1) {_FROM_PAIRS}"
)
OF_KIND: Final = (
    f"{_PAIRS}, found (seq) AS (SELECT e.seq {_FROM_PAIRS} JOIN entries e ON e.kind = :kind AND e.tank = p.tank "
    f"AND e.feed = p.feed AND e.day > :after WHERE {_NOT_UNDONE}) "
    f"{_SELECT} WHERE seq IN (SELECT seq FROM found) ORDER BY seq"
)
LAST_OF_KIND: Final = f"{_SELECT} WHERE kind = :kind AND tank = '' AND feed = '' ORDER BY day DESC, seq DESC LIMIT 1"
# With + before it a column is looked up in no index: the newest entries are few, and those of a kind or day are many.
LATE: Final = (
    "SELECT EXISTS (SELECT 1 FROM entries n WHERE n.seq > :seq AND ((+n.kind = :kind AND +n.day <= :day) OR EXISTS "
    "(SELECT 1 FROM entries o WHERE o.seq = +n.undoes AND +o.kind = :kind AND +o.day <= :day)))"
)

POSTED_WITHIN: Final = (
    "SELECT start, kind, version, body FROM entries e WHERE start BETWEEN "
    "coalesce((SELECT max(start) FROM entries WHERE start <= :first), :first) AND :last AND NOT EXISTS "
    "(SELECT 1 FROM entries later WHERE later.start = e.start AND later.seq > e.seq) ORDER BY start"
)
ACT: Final = (
    f"{_SELECT} WHERE seq >= :act AND seq < coalesce((SELECT seq FROM entries WHERE seq > :act AND act <> :act "
    "ORDER BY seq LIMIT 1), :act + 1000000) ORDER BY seq"
)


def last_act(by: str | None) -> tuple[str, tuple[str, ...]]:
    """The query for the newest act that can be undone and was not, of one keeper if given, and its values."""
    lasting = tuple(kind.name for kind in kinds() if not kind.undoable)
    places = ", ".join("?" * len(lasting))
    of_keeper = "" if by is None else "AND keeper = ? "
    query = (
        f"SELECT act FROM entries e WHERE seq = act AND kind NOT IN ({places}) {of_keeper}AND {_NOT_UNDONE} "
        "ORDER BY seq DESC LIMIT 1"
    )
    return query, lasting if by is None else (*lasting, by)
