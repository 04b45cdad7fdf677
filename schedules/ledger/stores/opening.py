"""Opening a ledger wherever it is: in a file, or on a server."""

from __future__ import annotations

from schedules.ledger.entry import LedgerFault
from schedules.ledger.ledger import Ledger
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room.place import Place, Server


def open_at(place: Place, *, create: bool = True, patience: float = 5.0) -> Ledger:
    """Open the ledger at a place, making it if it is not there and `create` allows it.

    Waits up to `patience` seconds for other programs. Raises `LedgerFault` for whatever is in the way.
    """
    if not isinstance(place, Server):
        return open_ledger(place, create=create, patience=patience)
    need_driver(place)
    # Imported here and not above: a ledger in a file needs no driver.
    from schedules.ledger.stores.postgres import open_server

    return open_server(place, create=create, patience=patience)


def need_driver(server: Server) -> None:
    """`LedgerFault` where what speaks with a server is not installed."""
    try:
        import psycopg  # noqa: F401
    except ImportError:
        raise LedgerFault(
            f"{server}: a ledger on a server needs the extra `shared`: python -m pip install 'rackround[shared]'"
        ) from None
