"""What the entries of a sound ledger obey, each as a query that finds those which do not, and a sentence about it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from schedules.ledger.clock import LITTLE_BACK
from schedules.ledger.declaration import kinds

_UNDONE: Final = "EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.act)"
_BACK: Final = LITTLE_BACK // timedelta(microseconds=1)


def _date(column: str) -> str:
    """A day's number as a date."""
    return f"date(({column} - {date(1970, 1, 1).toordinal()}) * 86400, 'unixepoch')"


def rules() -> Iterator[tuple[str, str]]:
    """The queries and their sentences, for the kinds there are."""
    yield (
        f"SELECT min(seq), max(seq), tank, feed, {_date('day')} FROM entries e WHERE mark IS NOT NULL AND "
        f"NOT {_UNDONE} GROUP BY tank, feed, day, mark HAVING count(*) > 1",
        "entries {0} and {1} both mark {3} for {2} on {4}, and neither was undone",
    )
    lasting = ", ".join(f"'{kind.name}'" for kind in kinds() if not kind.undoable)
    yield (
        "SELECT u.seq, u.undoes FROM entries u LEFT JOIN entries e ON e.seq = u.undoes WHERE u.undoes IS NOT NULL AND "
        f"(e.seq IS NULL OR e.act <> e.seq OR e.seq >= u.seq OR e.kind IN ({lasting}))",
        "entry {0} undoes act {1}, which is not there or cannot be undone",
    )


ODDITIES: Final[tuple[tuple[str, str], ...]] = (
    (
        "SELECT seq, at FROM (SELECT seq, datetime(at / 1000000, 'unixepoch') AS at, at - lag(at) OVER (ORDER BY seq) "
        f"AS step FROM entries) WHERE step < -{_BACK}",
        "entry {0} was written at {1} UTC, earlier than the one before it: the clock went back",
    ),
    (
        f"SELECT seq, {_date('start')}, {_date('day')} FROM entries WHERE start IS NOT NULL AND start < day",
        "entry {0} posts a plan from {1} on, though it was {2} already",
    ),
    (
        f"SELECT tank, feed, {_date('day')}, count(*) FROM entries e WHERE mark IS NOT NULL AND kind = 'served' "
        f"AND NOT {_UNDONE} GROUP BY tank, feed, day HAVING count(*) > 1",
        "{1} was given to {0} {3} times on {2}, in different rounds, without anyone having insisted",
    ),
)
