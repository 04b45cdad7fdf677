"""The tables of a ledger on a server, by schema version, and how an older one becomes a newer one.

Columns, indexes and their meaning are those of the ledger in a file (`stores/sqlite/schema.py`); here the text of an
entry is in `body`, and a plan's compressed bytes are in `packed`. A version, once released, is never edited.
"""

from __future__ import annotations

from typing import Final

SCHEMA: Final = "rackround"
CHANNEL: Final = "rackround_entries"
"""On which the server says that somebody wrote."""

# The collation is that of plain bytes: the same order on every server, whatever its language.
_ENTRIES: Final = """
CREATE TABLE entries (
    seq bigint PRIMARY KEY CHECK (seq > 0),
    act bigint NOT NULL CHECK (act BETWEEN 1 AND seq),
    day integer NOT NULL,
    at bigint NOT NULL,
    keeper text COLLATE "C",
    kind text COLLATE "C" NOT NULL,
    version integer NOT NULL CHECK (version > 0),
    tank text COLLATE "C" NOT NULL,
    feed text COLLATE "C" NOT NULL,
    mark text COLLATE "C",
    attempt integer NOT NULL CHECK (attempt >= 0),
    undoes bigint CHECK (undoes < seq),
    start integer,
    body text COLLATE "C",
    packed bytea,
    chain bytea NOT NULL CHECK (octet_length(chain) = 16),
    CHECK ((body IS NULL) <> (packed IS NULL))
)
"""
_ONE_ROW: Final = """
CREATE TABLE ledger (
    one boolean PRIMARY KEY DEFAULT true CHECK (one),
    version integer NOT NULL,
    identity uuid NOT NULL DEFAULT gen_random_uuid()
)
"""
_ONLY_ADDED: Final = """
CREATE FUNCTION only_added() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog AS
$$ BEGIN RAISE EXCEPTION 'entries are only ever added' USING ERRCODE = 'restrict_violation'; END $$
"""
_TELL: Final = f"""
CREATE FUNCTION tell() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog AS
$$ BEGIN PERFORM pg_notify('{CHANNEL}', ''); RETURN NULL; END $$
"""
_FOR_STATEMENT: Final = "ON entries FOR EACH STATEMENT EXECUTE FUNCTION"

STEPS: Final[tuple[tuple[str, ...], ...]] = (
    (
        _ONE_ROW,
        _ENTRIES,
        "CREATE UNIQUE INDEX mark_once ON entries (tank, feed, day, mark, attempt) WHERE mark IS NOT NULL",
        "CREATE UNIQUE INDEX undone_once ON entries (undoes) WHERE undoes IS NOT NULL",
        "CREATE UNIQUE INDEX start_once ON entries (start, attempt) WHERE start IS NOT NULL",
        "CREATE INDEX by_day ON entries (day)",
        "CREATE INDEX by_kind ON entries (kind, tank, feed, day)",
        "CREATE INDEX act_by_keeper ON entries (keeper, seq) WHERE seq = act",
        _ONLY_ADDED,
        _TELL,
        f"CREATE TRIGGER no_change BEFORE UPDATE OR DELETE OR TRUNCATE {_FOR_STATEMENT} only_added()",
        "ALTER TABLE entries ENABLE ALWAYS TRIGGER no_change",
        f"CREATE TRIGGER tell AFTER INSERT {_FOR_STATEMENT} tell()",
        "REVOKE ALL ON entries, ledger FROM PUBLIC",
        "REVOKE UPDATE, DELETE, TRUNCATE ON entries FROM CURRENT_USER",
        "REVOKE EXECUTE ON FUNCTION only_added(), tell() FROM PUBLIC",
        "INSERT INTO ledger (version) VALUES (0)",
    ),
)
"""The statements that lead from each version to the next; an empty database is version 0."""
VERSION: Final = len(STEPS)

OBJECTS: Final = f"""
SELECT 'the relation ' || relname FROM pg_class WHERE relnamespace = '{SCHEMA}'::regnamespace AND relkind <> 't'
UNION ALL SELECT 'the function ' || proname FROM pg_proc WHERE pronamespace = '{SCHEMA}'::regnamespace
UNION ALL SELECT 'the trigger ' || tgname FROM pg_trigger JOIN pg_class c ON c.oid = tgrelid
WHERE relnamespace = '{SCHEMA}'::regnamespace AND NOT tgisinternal AND tgenabled <> 'D'
UNION ALL SELECT 'the rule ' || rulename FROM pg_rewrite JOIN pg_class c ON c.oid = ev_class
WHERE relnamespace = '{SCHEMA}'::regnamespace
UNION ALL SELECT 'the policy ' || polname FROM pg_policy JOIN pg_class c ON c.oid = polrelid
WHERE relnamespace = '{SCHEMA}'::regnamespace
"""
"""Everything in the schema that could change what is read or written."""
EXPECTED: Final = frozenset(
    (
        *(f"the relation {name}" for name in ("entries", "entries_pkey", "ledger", "ledger_pkey")),
        *(f"the relation {name}" for name in ("mark_once", "undone_once", "start_once")),
        *(f"the relation {name}" for name in ("by_day", "by_kind", "act_by_keeper")),
        *(f"the function {name}" for name in ("only_added", "tell")),
        *(f"the trigger {name}" for name in ("no_change", "tell")),
    )
)
