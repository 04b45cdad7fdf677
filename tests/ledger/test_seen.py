"""Marks of others are seen as soon as one looks, and looking costs next to nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from time import monotonic, sleep

import pytest

from schedules.history import history_of, refresh
from schedules.ledger import Ledger, Posting
from schedules.ledger.stores.opening import open_at
from schedules.room.place import Place
from tests.ledger.builders import DAY, due, served, write


@pytest.fixture
def two(place: Place) -> Iterator[tuple[Ledger, Ledger]]:
    with closing(open_at(place)) as one, closing(open_at(place)) as other:
        yield one, other


def soon(ask: Callable[[], bool]) -> bool:
    """Whether it is so within two seconds: a server tells of a mark a moment after it was made."""
    end = monotonic() + 2
    while not ask():
        if monotonic() > end:
            return False
        sleep(0.005)
    return True


def test_a_mark_by_another_is_told_of_once(two: tuple[Ledger, Ledger]) -> None:
    one, other = two
    assert not one.changed()
    write(other, served())
    assert soon(one.changed)
    assert not one.changed()


def test_a_mark_of_ones_own_is_nothing_new(two: tuple[Ledger, Ledger]) -> None:
    one, other = two
    write(one, served())
    assert not one.changed()
    assert soon(other.changed)


def test_what_another_marked_and_posted_is_in_the_refreshed_history(two: tuple[Ledger, Ledger]) -> None:
    one, other = two
    history = history_of(one, DAY)
    write(other, Posting(DAY, ((due("a1"), due("b2")),)), by=None)
    write(other, served("b2"), by="Ben")
    history = refresh(history, one)
    assert [each.tank for each in history.due(DAY)] == ["a1", "b2"]
    assert [entry.by for entry, _ in history.served_on("b2", DAY)] == ["Ben"]


def test_what_is_read_in_one_moment_does_not_change_meanwhile(two: tuple[Ledger, Ledger]) -> None:
    one, other = two
    with one.moment():
        before = one.last_seq()
        write(other, served())
        assert one.last_seq() == before
        assert one.read(DAY, DAY) == ()
    assert one.last_seq() == before + 1


def test_one_ledger_serves_several_threads(two: tuple[Ledger, Ledger]) -> None:
    one, _ = two
    with ThreadPoolExecutor(8) as pool:
        made = list(pool.map(lambda number: write(one, served(f"t{number}"), served(f"t{number}", "leaf")), range(40)))
    assert sorted(made) == list(range(1, 80, 2))
    assert len(one.read(DAY, DAY)) == 80
