"""Places for ledgers that a test uses one after the other: files or databases, each without a ledger yet."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing, contextmanager
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

from schedules.ledger import Ledger
from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.stores.opening import open_at
from schedules.room.place import Place
from tests.ledger.server import TestServer, server_for_tests

STORES = ("file", "server")

_KEPT = ExitStack()


@lru_cache(maxsize=1)
def shared_server() -> TestServer:
    """The server of this test run, started when first asked for; `end_shared_server` ends it."""
    return _KEPT.enter_context(server_for_tests())


def end_shared_server() -> None:
    """End the server of this test run where one was started."""
    _KEPT.close()


@contextmanager
def places(store: str) -> Iterator[Callable[[], Place]]:
    """Something that gives another place for a ledger each time it is called."""
    with ExitStack() as lent:
        if store == "server":
            yield lambda: lent.enter_context(shared_server().lent())
            return
        folder = Path(lent.enter_context(TemporaryDirectory()))
        numbers = iter(range(1_000_000))
        yield lambda: folder / f"{next(numbers)}.ledger.db"


def lines_of(place: Place) -> list[str]:
    """The lines of an export of a ledger."""
    with closing(open_at(place, create=False)) as ledger:
        return list(export_lines(ledger))


def opened(place: Place, fill: Callable[[Ledger], object]) -> Place:
    """A place, once a ledger there was begun and filled."""
    with closing(open_at(place)) as ledger:
        fill(ledger)
    return place
