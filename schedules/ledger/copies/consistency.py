"""What the entries of a sound ledger obey, each as a query that finds those which do not, and a sentence about it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Final

from schedules.ledger.clock import LITTLE_BACK

_UNDONE: Final = "EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.act)"
_BACK: Final = LITTLE_BACK // timedelta(microseconds=1)


def _date(column: str) -> str:
    """A day's number as a date."""
    return f"date(({column} - {date(1970, 1, 1).toordinal()}) * 86400, 'unixepoch')"


RULES: Final[tuple[tuple[int, str, str], ...]] = (
    (
        1,
        f"SELECT min(seq), max(seq), tank, feed, {_date('day')} FROM entries e WHERE round IS NOT NULL AND attempt IS "
        f"NOT NULL AND NOT {_UNDONE} GROUP BY tank, feed, day, round HAVING count(*) > 1",
        "Entries {0} and {1} both mark {3} for {2} on {4}, and neither was undone.",
    ),
    (
        1,
        "SELECT u.seq, u.undoes FROM entries u LEFT JOIN entries e ON e.seq = u.undoes WHERE u.undoes IS NOT NULL AND "
        "(e.seq IS NULL OR e.act <> e.seq OR e.seq >= u.seq OR e.kind IN ('posted', 'undone'))",
        "Entry {0} undoes act {1}, which there is not or which cannot be undone.",
    ),
    (
        1,
        "SELECT seq FROM entries WHERE (kind = 'undone') <> (undoes IS NOT NULL) OR (kind = 'posted') <> "
        "(start IS NOT NULL) OR (kind IN ('served', 'skipped')) <> (round IS NOT NULL)",
        "Entry {0} does not have the columns of its kind.",
    ),
    (
        2,
        "SELECT tank, feed FROM (SELECT tank, feed FROM given EXCEPT SELECT tank, feed FROM entries WHERE kind = "
        "'served' UNION ALL SELECT * FROM (SELECT tank, feed FROM entries WHERE kind = 'served' EXCEPT SELECT tank, "
        "feed FROM given))",
        "The list of what was ever given is wrong about {1} for {0}.",
    ),
)
"""The form from which on a rule holds, the query, the sentence."""

ODDITIES: Final[tuple[tuple[str, str], ...]] = (
    (
        "SELECT seq, at FROM (SELECT seq, datetime(at / 1000000, 'unixepoch') AS at, at - lag(at) OVER (ORDER BY seq) "
        f"AS step FROM entries) WHERE step < -{_BACK}",
        "Entry {0} was written at {1} UTC, earlier than the one before it: the clock went back.",
    ),
    (
        f"SELECT seq, {_date('start')}, {_date('day')} FROM entries WHERE start IS NOT NULL AND start < day",
        "Entry {0} posts a plan from {1} on, though it was {2} already.",
    ),
    (
        f"SELECT tank, feed, {_date('day')}, count(*) FROM entries e WHERE round IS NOT NULL AND attempt IS NOT NULL "
        f"AND kind = 'served' AND NOT {_UNDONE} GROUP BY tank, feed, day HAVING count(*) > 1",
        "{1} was given to {0} {3} times on {2}, in different rounds, without anyone having insisted.",
    ),
)
