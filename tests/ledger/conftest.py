"""What the tests of the ledger share: places and ledgers of every store."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import closing

import pytest

from schedules.ledger import Ledger
from schedules.ledger.stores.memory import MemoryLedger
from schedules.ledger.stores.opening import open_at
from schedules.room.place import Place
from tests.ledger.places import STORES, places


@pytest.fixture(params=STORES)
def another_place(request: pytest.FixtureRequest) -> Iterator[Callable[[], Place]]:
    """Another place for a ledger each time it is called, of one store."""
    with places(request.param) as another:
        yield another


@pytest.fixture
def place(another_place: Callable[[], Place]) -> Place:
    """A place for a ledger."""
    return another_place()


@pytest.fixture(params=(*STORES, "list"))
def ledger(request: pytest.FixtureRequest) -> Iterator[Ledger]:
    """An empty ledger of each store, and the plain list."""
    if request.param == "list":
        yield MemoryLedger()
        return
    with places(request.param) as another, closing(open_at(another())) as made:
        yield made
