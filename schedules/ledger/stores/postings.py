"""Plans read from rows of any store: their start, kind, schema version and body, by start."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import pairwise, zip_longest

from schedules.ledger.declaration import Content, kind_named
from schedules.ledger.entries.plan.packed import unpack
from schedules.ledger.entries.plan.posted import CODEC
from schedules.ledger.entries.plan.posting import Posting
from schedules.ledger.stores.rows import Row


def whole_postings(rows: Sequence[Row]) -> tuple[Posting, ...]:
    """The plans with all their days."""
    return tuple(unpack(_packed(row)) for row in rows)


def due_postings(rows: Sequence[Row], first: date) -> tuple[Posting, ...]:
    """The plans, each cut to the days from `first` on that are before the next one's start; only those are read."""
    ends = [later[0] - row[0] for row, later in pairwise(rows)]
    found = []
    for row, end in zip_longest(rows, ends):
        skipped = max(0, first.toordinal() - row[0])
        packed = _packed(row, first_day_only=(skipped, end) == (0, 1))
        found.append(unpack(packed, skipped, end))
    return tuple(found)


def _packed(row: Row, *, first_day_only: bool = False) -> Content:
    """The packed values of a row, in the newest schema version."""
    _, kind, version, body = row
    content = CODEC.grow(body, first_day_only=first_day_only)
    return kind_named(kind, version).as_now(content, version)
