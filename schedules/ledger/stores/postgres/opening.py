"""Opening a ledger on a server: its tables made where they are missing, brought up to date, and checked to be them."""

from __future__ import annotations

from typing import Final

from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.postgres import queries
from schedules.ledger.stores.postgres.faults import DAMAGED
from schedules.ledger.stores.postgres.line import PatientConnection
from schedules.ledger.stores.postgres.rows import plain_rows
from schedules.ledger.stores.postgres.schema import EXPECTED, OBJECTS, SCHEMA, STEPS, VERSION
from schedules.ledger.stores.rows import first_broken
from schedules.room.place import Server

TAIL: Final = 64
"""How many of the newest entries are checked against their chain whenever a ledger is opened."""
_IS_THERE: Final = f"SELECT to_regclass('{SCHEMA}.ledger') IS NOT NULL, to_regnamespace('{SCHEMA}') IS NOT NULL"


def is_there(connection: PatientConnection) -> bool:
    """Whether there is a ledger in the database."""
    return bool(_one(connection, _IS_THERE)[0])


def prepare(server: Server, connection: PatientConnection, *, create: bool, check_tail: bool = True) -> str:
    """Make the ledger's tables where there are none and `create` allows it, bring them up to date, and check them.

    What tells this ledger from others comes back. `LedgerFault` says what is in the way.
    """
    there, schema = _one(connection, _IS_THERE)
    if not there:
        if schema:
            raise fault(server, f"its schema {SCHEMA} is not a ledger of this program. Name another database.")
        if not create:
            raise fault(server, "there is no ledger here. Check the address, or open the room once to begin one.")
        bring_up(server, connection)
    elif _version(server, connection) < VERSION:
        bring_up(server, connection)
    _check_objects(server, connection)
    if check_tail:
        _check_tail(server, connection)
    return str(_one(connection, "SELECT identity FROM ledger")[0])


def _one(connection: PatientConnection, query: str) -> tuple[object, ...]:
    return connection.execute(query).fetchone() or ()


def _version(server: Server, connection: PatientConnection) -> int:
    found = connection.execute("SELECT version FROM ledger").fetchone()
    version = int(found[0]) if found else 0
    if version > VERSION:
        raise fault(
            server,
            f"this ledger was written by a newer Rackround (schema version {version}; this one knows up to {VERSION}). "
            "Use the newer program.",
        )
    return version


def bring_up(server: Server, connection: PatientConnection) -> None:
    """Bring the tables to the newest version in one transaction, unless another program just did."""
    connection.execute(queries.LOCK_FIRST)
    try:
        _bring_up(server, connection)
    finally:
        if not connection.closed:
            connection.execute(queries.UNLOCK)


def _bring_up(server: Server, connection: PatientConnection) -> None:
    with connection.transaction():
        there, _ = _one(connection, _IS_THERE)
        if not there:
            _check_encoding(server, connection)
            connection.execute(f"CREATE SCHEMA {SCHEMA}")
        version = _version(server, connection) if there else 0
        for step in STEPS[version:]:
            for statement in step:
                connection.execute(statement)
        connection.execute("UPDATE ledger SET version = %s", (VERSION,))


def _check_encoding(server: Server, connection: PatientConnection) -> None:
    encoding = _one(connection, "SHOW server_encoding")[0]
    if encoding != "UTF8":
        raise fault(server, f"the database is in {encoding}; a ledger needs UTF8. Have another one made (createdb).")


def _check_objects(server: Server, connection: PatientConnection) -> None:
    found = frozenset(str(row[0]) for row in connection.execute(OBJECTS).fetchall())
    strange, missing = sorted(found - EXPECTED), sorted(EXPECTED - found)
    if strange:
        raise fault(server, f"there is {strange[0]} in its schema, which is not this program's. Have it looked at.")
    if missing:
        raise fault(server, f"{missing[0]} is missing in its schema or switched off. Have it looked at: {DAMAGED}")


def _check_tail(server: Server, connection: PatientConnection) -> None:
    """Refuse a ledger whose newest entries do not follow from each other; `verify` looks at all of them."""
    broken = first_broken(plain_rows(connection.execute(queries.TAIL, (TAIL,)).fetchall()))
    if broken is not None:
        raise fault(server, f"entry {broken} is not as it was written: {DAMAGED}")
