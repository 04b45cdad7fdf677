"""Rows of schema versions 1 to 3 as rows of today: nothing that was written changes, only where it stands.

Used where an older file is brought up to date, where it is read as it is, and where a damaged one is repaired.
"""

from __future__ import annotations

import json
import sqlite3
from typing import Any, Final

from schedules.ledger.compact import compact
from schedules.ledger.stores.rows import Row

COLUMN_COUNT: Final = 14
_BODY: Final = "body_as_now"
AS_NOW: Final = (
    "SELECT seq, act, day, at, keeper, kind, 1 AS version, coalesce(tank, '') AS tank, coalesce(feed, '') AS feed, "
    "CASE WHEN round IS NOT NULL AND attempt IS NOT NULL THEN 'serving ' || round END AS mark, "
    "coalesce(attempt, 0) AS attempt, undoes, start, "
    f"{_BODY}(kind, tank, feed, round, undoes, body) AS body, chain FROM {{table}}"
)
"""The rows of a table of an older version as rows of today; on a connection that is `prepared`."""


def prepare(connection: sqlite3.Connection) -> None:
    """Let a connection understand `AS_NOW`."""
    connection.create_function(_BODY, 6, body_as_now, deterministic=True)


def body_as_now(kind: str, tank: str | None, feed: str | None, round_id: str | None, undoes: Any, body: Any) -> Any:
    """The body of a row of today: every value of the entry's content, in order."""
    if kind == "posted":
        return body
    if kind == "undone":
        return compact([undoes])
    if kind == "noted":
        return compact([tank, body])
    if kind == "observed":
        return compact([tank, feed, body])
    if kind == "skipped":
        return compact([tank, feed, round_id, body])
    place = [tank, feed, round_id] if kind == "served" else [tank, feed]
    try:
        return compact([*place, *json.loads(body)])
    except (TypeError, ValueError):
        return ""  # damaged: says nothing, and is refused where it is read


def row_as_now(row: Row) -> Row:
    """A row of `COLUMN_COUNT` columns as a row of today."""
    seq, act, day, at, keeper, kind, tank, feed, round_id, attempt, undoes, start, body, chain = row
    mark = None if round_id is None or attempt is None else f"serving {round_id}"
    now = body_as_now(kind, tank, feed, round_id, undoes, body)
    return (
        *(seq, act, day, at, keeper, kind, 1, tank or "", feed or "", mark, attempt or 0, undoes, start, now, chain),
    )
