"""The tables of a ledger file, by schema version, and how an older file becomes a newer one.

A version, once released, is never edited; a new one is added at the end. Its number is the file's `user_version`, and
every step is one transaction with it. A new kind of entry, or a new schema version of one, changes nothing here.
"""

from __future__ import annotations

from typing import Final

from schedules.ledger.stores.sqlite.earlier import AS_NOW

APPLICATION_ID: Final = 0x52_4C_47_31
"""Marks the file as a ledger of this program (the letters RLG1) for everyone who looks at its header."""

_ENTRIES_BEFORE: Final = """
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
_COLUMNS_BEFORE: Final = "seq, act, day, at, keeper, kind, tank, feed, round, attempt, undoes, start, body, chain"


def _entries(*kinds: str) -> str:
    """The table of entries of these kinds, as it was up to version 3."""
    return _ENTRIES_BEFORE.replace("KINDS", ", ".join(f"'{kind}'" for kind in kinds))


_ONLY_ADDED: Final = (
    "CREATE TRIGGER no_change BEFORE UPDATE ON entries BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END",
    "CREATE TRIGGER no_removal BEFORE DELETE ON entries BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END",
)
_UNDONE_ONCE: Final = "CREATE UNIQUE INDEX undone_once ON entries (undoes) WHERE undoes IS NOT NULL"
_BY_DAY: Final = "CREATE INDEX by_day ON entries (day)"
_GUARDS_BEFORE: Final = (
    "CREATE UNIQUE INDEX mark_once ON entries (tank, feed, day, round, attempt) WHERE round IS NOT NULL",
    _UNDONE_ONCE,
    "CREATE UNIQUE INDEX posted_once ON entries (start) WHERE start IS NOT NULL",
    _BY_DAY,
    *_ONLY_ADDED,
)
_ACT_BY_KEEPER: Final = "CREATE INDEX act_by_keeper ON entries (keeper) WHERE seq = act"
_GIVEN_AND_ACTS: Final = (
    "CREATE TRIGGER keep_given AFTER INSERT ON entries WHEN new.kind = 'served' "
    "BEGIN INSERT OR IGNORE INTO given VALUES (new.tank, new.feed); END",
    _ACT_BY_KEEPER,
)

# `tank` and `feed` are '' for none. `mark` is what can be written only once for a tank, feed and day; `attempt` says
# how often it was written and undone before, or how many entries with the same start this one continues.
_ENTRIES: Final = """
CREATE TABLE entries (
    seq INTEGER PRIMARY KEY CHECK (seq > 0),
    act INTEGER NOT NULL CHECK (act BETWEEN 1 AND seq),
    day INTEGER NOT NULL,
    at INTEGER NOT NULL,
    keeper TEXT,
    kind TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version > 0),
    tank TEXT NOT NULL,
    feed TEXT NOT NULL,
    mark TEXT,
    attempt INTEGER NOT NULL CHECK (attempt >= 0),
    undoes INTEGER CHECK (undoes < seq),
    start INTEGER,
    body NOT NULL,
    chain BLOB NOT NULL CHECK (length(chain) = 16)
)
"""
_GUARDS: Final = (
    "CREATE UNIQUE INDEX mark_once ON entries (tank, feed, day, mark, attempt) WHERE mark IS NOT NULL",
    _UNDONE_ONCE,
    "CREATE UNIQUE INDEX start_once ON entries (start, attempt) WHERE start IS NOT NULL",
    _BY_DAY,
    "CREATE INDEX by_kind ON entries (kind, tank, feed, day)",
    _ACT_BY_KEEPER,
    *_ONLY_ADDED,
)

STEPS: Final[tuple[tuple[str, ...], ...]] = (
    (
        _entries(*_KINDS),
        *_GUARDS_BEFORE,
    ),
    (
        "CREATE TABLE given (tank TEXT NOT NULL, feed TEXT NOT NULL, PRIMARY KEY (tank, feed)) WITHOUT ROWID",
        "INSERT INTO given SELECT DISTINCT tank, feed FROM entries WHERE kind = 'served'",
        *_GIVEN_AND_ACTS,
    ),
    # The kinds are a part of the table, so it is made again; its indexes and triggers go with the old one.
    (
        "ALTER TABLE entries RENAME TO entries_before",
        _entries(*_KINDS[:-1], "acknowledged", "undone"),
        f"INSERT INTO entries SELECT {_COLUMNS_BEFORE} FROM entries_before ORDER BY seq",
        "DROP TABLE entries_before",
        *(guard for guard in _GUARDS_BEFORE if "posted_once" not in guard),
        *_GIVEN_AND_ACTS,
        # A posting that continues others with the same start has their number as its attempt.
        "CREATE UNIQUE INDEX posted_once ON entries (start, coalesce(attempt, 0)) WHERE start IS NOT NULL",
    ),
    # From here on a row says its kind and schema version in words that the table does not know.
    (
        "ALTER TABLE entries RENAME TO entries_before",
        _ENTRIES,
        f"INSERT INTO entries {AS_NOW.format(table='entries_before')} ORDER BY seq",
        "DROP TABLE entries_before",
        "DROP TABLE given",
        *_GUARDS,
    ),
)
"""The statements that lead from each version to the next; an empty file is version 0."""
VERSION: Final = len(STEPS)
GENERIC: Final = 4
"""The first version whose rows are those of `rows.py`."""


def objects(version: int) -> dict[str, str]:
    """The tables, indexes and triggers a file of a version has, name to statement."""
    found: dict[str, str] = {}
    for step in STEPS[:version]:
        if step[0].startswith("ALTER TABLE entries"):
            found = {name: made for name, made in found.items() if " ON entries" not in made}
        for statement in step:
            if statement.startswith("DROP TABLE "):
                found.pop(statement.split()[-1], None)
            elif statement.strip().startswith("CREATE"):
                found[_name(statement)] = statement.strip()
    return found


def _name(statement: str) -> str:
    words = statement.replace("(", " ").split()
    return words[words.index(next(word for word in words if word in ("TABLE", "INDEX", "TRIGGER"))) + 1]
