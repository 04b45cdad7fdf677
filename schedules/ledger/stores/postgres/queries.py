"""Every question the store asks of its table. Each reads only what it needs, however long the ledger is.

They ask the same as those of the ledger in a file (`stores/sqlite/queries.py`), in the words of PostgreSQL.
"""

from __future__ import annotations

from typing import Any, Final

from schedules.ledger.declaration import kinds
from schedules.ledger.stores.postgres.rows import ALL, COLUMNS, kept


def _columns_of(table: str) -> str:
    """The columns of a row, of one of several tables."""
    return ", ".join(f"{table}.{name}" for name in COLUMNS.split(", "))


_SELECT: Final = f"SELECT {COLUMNS} FROM entries"
# A question of its own for each entry, which is answered by one look into an index: a join would read every undo. In
# this form the server expects it to hold for many entries, and looks from the newest one on instead of sorting all.
_NOT_UNDONE: Final = "coalesce((SELECT false FROM entries u WHERE u.undoes = e.act), true)"

_KEY: Final = "hashtextextended('rackround', 0)"
LOCK: Final = f"SELECT pg_advisory_xact_lock({_KEY})"
"""Writers take turns, in the order in which they asked; the indexes decide what may be written."""
LOCK_FIRST: Final = f"SELECT pg_advisory_lock({_KEY})"
"""The same turn, taken before a transaction begins: one that began earlier may not see tables made meanwhile."""
UNLOCK: Final = f"SELECT pg_advisory_unlock({_KEY})"
INSERT: Final = f"INSERT INTO entries ({ALL}) VALUES ({', '.join(['%s'] * 16)})"
FILL: Final = f"COPY entries ({ALL}) FROM STDIN (FORMAT BINARY)"
FILL_TYPES: Final = (
    *("int8", "int8", "int4", "int8", "text", "text", "int4", "text", "text", "text", "int4", "int8", "int4"),
    *("text", "bytea", "bytea"),
)
NEWEST: Final = "SELECT seq, chain FROM entries ORDER BY seq DESC LIMIT 1"
TAIL: Final = f"SELECT {COLUMNS}, chain FROM entries ORDER BY seq DESC LIMIT %s"
LAST: Final = f"{_SELECT} ORDER BY seq DESC LIMIT 1"
AFTER: Final = f"{_SELECT} WHERE seq > %s AND start IS NULL ORDER BY seq"
PART: Final = f"{_SELECT} WHERE seq > %s AND seq <= %s ORDER BY seq"
PART_OF_ALL: Final = f"SELECT {ALL} FROM entries WHERE seq > %s AND seq <= %s ORDER BY seq"
DAYS: Final = f"""
WITH found AS MATERIALIZED ({_SELECT} WHERE day BETWEEN %(first)s AND %(last)s AND start IS NULL)
SELECT * FROM found UNION ALL
SELECT {_columns_of("u")}
FROM (SELECT min(act) AS low, max(act) AS high FROM found) r JOIN entries u ON u.undoes BETWEEN r.low AND r.high
WHERE u.day NOT BETWEEN %(first)s AND %(last)s ORDER BY seq
"""
"""Entries about days, and the undos made about other days of acts within the range of their numbers."""

MARKS: Final = """
SELECT m.number, count(u.seq), max(e.seq) FILTER (WHERE u.seq IS NULL)
FROM unnest(%s::text[], %s::text[], %s::integer[], %s::text[]) WITH ORDINALITY AS m (tank, feed, day, mark, number)
LEFT JOIN entries e ON e.tank = m.tank AND e.feed = m.feed AND e.day = m.day AND e.mark = m.mark
LEFT JOIN entries u ON u.undoes = e.act
GROUP BY m.number ORDER BY m.number
"""
"""How often each of some marks was made and undone, and the number of the entry that holds, null for none."""
ENTRY: Final = f"{_SELECT} WHERE seq = %s"
UNDO: Final = f"{_SELECT} WHERE undoes = %s"
STARTED: Final = f"{_SELECT} WHERE start = %s ORDER BY attempt DESC LIMIT 1"
STARTS: Final = "SELECT count(*) FROM entries WHERE start = %s"
ACT_KIND: Final = "SELECT kind FROM entries WHERE seq = %s AND act = seq"

# Each (tank, feed) of a kind, found by one look into the index for each, not by reading the entries between.
_PAIRS: Final = """
WITH RECURSIVE pair (tank, feed) AS (
    (SELECT e.tank, e.feed FROM entries e WHERE e.kind = %(kind)s ORDER BY e.tank, e.feed LIMIT 1)
    UNION ALL
    SELECT n.tank, n.feed FROM pair p CROSS JOIN LATERAL (SELECT e.tank, e.feed FROM entries e
    WHERE e.kind = %(kind)s AND (e.tank, e.feed) > (p.tank, p.feed) ORDER BY e.tank, e.feed LIMIT 1) n)
"""
_OF_PAIR: Final = "FROM entries e WHERE e.kind = %(kind)s AND e.tank = p.tank AND e.feed = p.feed"
LAST_DAYS: Final = (
    f"{_PAIRS} SELECT p.tank, p.feed, (SELECT e.day {_OF_PAIR} AND e.day < %(before)s AND {_NOT_UNDONE} "
    "ORDER BY e.day DESC LIMIT 1) FROM pair p"
)
FIRST_DAYS: Final = (
    f"{_PAIRS} SELECT p.tank, p.feed, (SELECT e.day {_OF_PAIR} AND {_NOT_UNDONE} ORDER BY e.day LIMIT 1) FROM pair p"
)
OF_KIND: Final = (
    f"{_PAIRS} SELECT f.* FROM pair p CROSS JOIN LATERAL (SELECT {COLUMNS} {_OF_PAIR} AND e.day > %(after)s "
    f"AND {_NOT_UNDONE}) f ORDER BY f.seq"
)
LAST_OF_KIND: Final = f"{_SELECT} WHERE kind = %s AND tank = '' AND feed = '' ORDER BY day DESC, seq DESC LIMIT 1"
LATE: Final = """
SELECT EXISTS (SELECT 1 FROM (SELECT kind, day, undoes FROM entries WHERE seq > %(seq)s) n
LEFT JOIN entries o ON o.seq = n.undoes
WHERE (n.kind = %(kind)s AND n.day <= %(day)s) OR (o.kind = %(kind)s AND o.day <= %(day)s))
"""

POSTED_WITHIN: Final = """
SELECT start, kind, version, packed FROM entries e WHERE start BETWEEN
coalesce((SELECT max(start) FROM entries WHERE start <= %(first)s), %(first)s) AND %(last)s AND NOT EXISTS
(SELECT 1 FROM entries later WHERE later.start = e.start AND later.seq > e.seq) ORDER BY start
"""


def last_act(by: str | None) -> tuple[str, dict[str, Any]]:
    """The query for the newest act that can be undone and was not, of one keeper if given, and its values."""
    lasting = [kind.name for kind in kinds() if not kind.undoable]
    of_keeper = "" if by is None else "AND e.seq = e.act AND e.keeper = %(by)s"
    query = f"""
WITH newest AS MATERIALIZED (SELECT e.act FROM entries e WHERE e.kind <> ALL (%(lasting)s)
{of_keeper} AND {_NOT_UNDONE} ORDER BY e.seq DESC LIMIT 1)
SELECT {_columns_of("a")} FROM newest n JOIN entries a ON a.seq >= n.act AND a.seq < coalesce(
(SELECT o.seq FROM entries o WHERE o.seq > n.act AND o.act <> n.act ORDER BY o.seq LIMIT 1), n.act + 1000000)
ORDER BY a.seq
"""
    return query, {"lasting": lasting, "by": kept(by)}
