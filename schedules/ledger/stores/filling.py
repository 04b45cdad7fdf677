"""A new ledger filled with many acts at once, wherever it is to be: it appears whole or not at all."""

from __future__ import annotations

from contextlib import AbstractContextManager

from schedules.ledger.stores.opening import need_driver
from schedules.ledger.stores.sqlite.filling import filling
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.room.place import Place, Server


def filling_at(place: Place) -> AbstractContextManager[Inserter]:
    """An inserter into a ledger that is at a place at the end; a fault where one is there already."""
    if not isinstance(place, Server):
        return filling(place)
    need_driver(place)
    # Imported here and not above: a ledger in a file needs no driver.
    from schedules.ledger.stores.postgres.filling import filling_server

    return filling_server(place)
