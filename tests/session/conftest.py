"""A session on a room of two tanks, with a ledger that can be locked and a clock that is set by hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime

import pytest

from schedules.ledger import Entry, LedgerFault, PostedServing, Posting, What
from schedules.ledger.stores.memory import MemoryLedger
from schedules.room import Room
from schedules.room_file import load_room_text
from schedules.session.session import Session
from tests.cli.conftest import ROOM

TODAY = datetime(2026, 11, 25, 6, 30, tzinfo=UTC)


class Moody(MemoryLedger):
    """A ledger that can be locked."""

    locked = False

    def append(
        self, what: Sequence[What], *, day: date, at: datetime, by: str | None, since: int | None = None
    ) -> tuple[Entry, ...]:
        if self.locked:
            raise LedgerFault("the ledger is locked by another program")
        return super().append(what, day=day, at=at, by=by, since=since)


class Clock:
    """A clock that is set by hand."""

    now = TODAY

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture(scope="module")
def room() -> Room:
    return load_room_text(ROOM, "room.toml")


@pytest.fixture
def ledger(room: Room) -> Moody:
    """A ledger in which 0.6 of the ration as dust and 0.4 as flake are due in a1 today, and dust in a2."""
    ledger = Moody()
    servings = (due(room, "a1", "dust", 0.6), due(room, "a1", "flake", 0.4), due(room, "a2", "dust", 0.5))
    ledger.append([Posting(TODAY.date(), (servings,) + ((),) * 20)], day=TODAY.date(), at=TODAY, by=None)
    return ledger


@pytest.fixture
def clock() -> Iterator[Clock]:
    yield Clock()


@pytest.fixture
def session(room: Room, ledger: Moody, clock: Clock) -> Session:
    return Session(room, ledger, clock, "Mara", posts="today")


def due(room: Room, tank: str, feed: str, part: float) -> PostedServing:
    """A serving of ten measures."""
    stock = room.feeds[feed]
    measure = stock.measure
    return PostedServing(tank, feed, stock.round, part, 10.0, measure.name, 10 * measure.mg, stock.rules.method)
