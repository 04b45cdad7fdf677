"""What a failing server means for the keeper: every error of the driver becomes a `LedgerFault` that says what to do.

The driver's own text is shown only where nothing else is known, and never where the address holds a password.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

import psycopg

from schedules.ledger.stores.faults import NOT_SAVED, fault, faults_of_entries
from schedules.room.place import STANDARD_WAYS, Server, secrets_of

NO_LINE: Final = "there is no line to the server just now. Check the network if that lasts."
NOT_WRITTEN: Final = f"there is no line to the server just now. {NOT_SAVED} Check the network if that lasts."
IN_DOUBT: Final = (
    "the line was cut while a mark was being saved, so it is not known whether it was. Tried again, it is not written "
    "twice."
)
HELD: Final = f"another program holds the ledger. {NOT_SAVED} Try again."
DAMAGED: Final = "keep the database as it is, and bring its newest backup or export back into another one."
_NO_ENTRY: Final = (
    "the server does not let this user in: the name or password is wrong or missing. In an address, best "
    f"{STANDARD_WAYS}."
)
_BY_STATE: Final[dict[str, str]] = {
    "25006": f"the server only lets you read just now. {NOT_SAVED} Name the server that is written to.",
    "28": _NO_ENTRY,
    "3D": "there is no such database on the server. Have it made (createdb), or check the address.",
    "42501": f"this user has no right to that. {NOT_SAVED} schedules/ledger/README.md lists the rights a keeper needs.",
    "40": f"too many programs use the ledger at once. {NOT_SAVED} Try again.",
    "42": "its tables are not those of a ledger of this program.",
    "53100": f"the server's disk is full. {NOT_SAVED} Free some space there, then try again.",
    "53": f"the server has no room for more (connections or memory). {NOT_SAVED} Try again.",
    "54": f"the name of a keeper, tank, feed or round is too long for a server: 600 letters are safe. {NOT_SAVED}",
    "55P03": HELD,
    "57014": f"the server took too long. {NOT_SAVED} Try again.",
    "57": NO_LINE,
    "58": f"the server's disk or system failed. {NOT_SAVED} Have its log looked at.",
    "XX001": f"the server says that the database is damaged: {DAMAGED}",
    "XX002": f"the server says that the database is damaged: {DAMAGED}",
}
_BY_TEXT: Final[tuple[tuple[str, str], ...]] = (
    ("password", _NO_ENTRY),
    ("authentication", _NO_ENTRY),
    ("pg_hba", _NO_ENTRY),
    ("certificate", "the server's TLS certificate was refused. Check sslmode and sslrootcert of the address."),
    ("SSL", "TLS with the server failed. Check sslmode of the address, and the server's certificate."),
    ("does not exist", _BY_STATE["3D"]),
    ("too many", _BY_STATE["53"]),
)
"""What the driver says of a line that could not be opened: it gives no code then."""


def meaning(error: psycopg.Error, server: Server) -> str:
    """What an error means, in the keeper's words."""
    state = error.sqlstate or ""
    for length in (5, 2):
        if state[:length] in _BY_STATE:
            return _BY_STATE[state[:length]]
    said = str(error)
    if isinstance(error, psycopg.OperationalError) and not state:
        return next((says for word, says in _BY_TEXT if word.lower() in said.lower()), NO_LINE)
    if isinstance(error, psycopg.ProgrammingError) and not state:
        return "this is no address of a server. It looks like postgresql://USER@HOST/DATABASE."
    shown = "" if secrets_of(server.address) else f" ({said.splitlines()[0] if said else type(error).__name__})"
    return f"the ledger could not be used{shown}. {NOT_SAVED}"


@contextmanager
def faults_of(server: Server) -> Iterator[None]:
    """Turn whatever the driver raises within, and what reading a damaged entry does, into a `LedgerFault`."""
    with faults_of_entries(server, DAMAGED):
        try:
            yield
        except psycopg.Error as error:
            # Without the error itself: what the driver says may quote the address.
            raise fault(server, meaning(error, server)) from None
