"""The tables of a ledger file, by version, and how an older file becomes a newer one.

A version, once released, is never edited; a new one is added at the end. The number of the version stands in the
file's `user_version`, and every step is one transaction with it.
"""

from __future__ import annotations

from typing import Final

APPLICATION_ID: Final = 0x52_4C_47_31
"""Marks the file as a ledger of this program (the letters RLG1) for everyone who looks at its header."""

_ENTRIES: Final = """
CREATE TABLE entries (
    seq INTEGER PRIMARY KEY CHECK (seq > 0),
    act INTEGER NOT NULL CHECK (act BETWEEN 1 AND seq),
    day INTEGER NOT NULL,
    at INTEGER NOT NULL,
    keeper TEXT,
    kind TEXT NOT NULL CHECK (kind IN (KINDS)),
    tank TEXT,
    feed TEXT,
    round TEXT,
    attempt INTEGER,
    undoes INTEGER CHECK (undoes < seq),
    start INTEGER,
    body,
    chain BLOB NOT NULL CHECK (length(chain) = 16)
)
"""
_KINDS: Final = ("posted", "served", "skipped", "observed", "noted", "undone")
_COLUMNS: Final = "seq, act, day, at, keeper, kind, tank, feed, round, attempt, undoes, start, body, chain"


def _entries(*kinds: str) -> str:
    """The table of entries of these kinds."""
    return _ENTRIES.replace("KINDS", ", ".join(f"'{kind}'" for kind in kinds))


# In `mark_once`, servings beyond the plan have no attempt, and NULL is distinct from every other value.
_GUARDS: Final = (
    "CREATE UNIQUE INDEX mark_once ON entries (tank, feed, day, round, attempt) WHERE round IS NOT NULL",
    "CREATE UNIQUE INDEX undone_once ON entries (undoes) WHERE undoes IS NOT NULL",
    "CREATE UNIQUE INDEX posted_once ON entries (start) WHERE start IS NOT NULL",
    "CREATE INDEX by_day ON entries (day)",
    "CREATE TRIGGER no_change BEFORE UPDATE ON entries BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END",
    "CREATE TRIGGER no_removal BEFORE DELETE ON entries BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END",
)
_GIVEN_AND_ACTS: Final = (
    "CREATE TRIGGER keep_given AFTER INSERT ON entries WHEN new.kind = 'served' "
    "BEGIN INSERT OR IGNORE INTO given VALUES (new.tank, new.feed); END",
    "CREATE INDEX act_by_keeper ON entries (keeper) WHERE seq = act",
)
STEPS: Final[tuple[tuple[str, ...], ...]] = (
    (
        _entries(*_KINDS),
        *_GUARDS,
    ),
    (
        "CREATE TABLE given (tank TEXT NOT NULL, feed TEXT NOT NULL, PRIMARY KEY (tank, feed)) WITHOUT ROWID",
        "INSERT INTO given SELECT DISTINCT tank, feed FROM entries WHERE kind = 'served'",
        *_GIVEN_AND_ACTS,
    ),
    # The kinds are a part of the table, so it is made anew; its indexes and triggers go with the old one.
    (
        "ALTER TABLE entries RENAME TO entries_before",
        _entries(*_KINDS[:-1], "acknowledged", "undone"),
        f"INSERT INTO entries SELECT {_COLUMNS} FROM entries_before ORDER BY seq",
        "DROP TABLE entries_before",
        *(guard for guard in _GUARDS if "posted_once" not in guard),
        *_GIVEN_AND_ACTS,
        # A posting that continues others with the same start has their number as its attempt.
        "CREATE UNIQUE INDEX posted_once ON entries (start, coalesce(attempt, 0)) WHERE start IS NOT NULL",
    ),
)
"""The statements that lead from each version to the next; an empty file is version 0."""
VERSION: Final = len(STEPS)


def objects(version: int) -> dict[str, str]:
    """The tables, indexes and triggers a file of a version has, name to statement."""
    made = (statement.strip() for step in STEPS[:version] for statement in step)
    return {_name(statement): statement for statement in made if statement.startswith("CREATE")}


def _name(statement: str) -> str:
    words = statement.replace("(", " ").split()
    return words[words.index(next(word for word in words if word in ("TABLE", "INDEX", "TRIGGER"))) + 1]
