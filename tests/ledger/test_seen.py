"""Marks of others are seen as soon as one looks, and looking costs next to nothing."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

from schedules.history import history_of, refresh
from schedules.ledger import Posting
from schedules.ledger.stores.sqlite import SqliteLedger, open_ledger
from tests.ledger.builders import DAY, due, served, write


@pytest.fixture
def two(tmp_path: Path) -> Iterator[tuple[SqliteLedger, SqliteLedger]]:
    path = tmp_path / "room.ledger.db"
    with closing(open_ledger(path)) as one, closing(open_ledger(path)) as other:
        yield one, other


def test_a_mark_by_another_is_told_of_once(two: tuple[SqliteLedger, SqliteLedger]) -> None:
    one, other = two
    assert not one.changed()
    write(other, served())
    assert one.changed()
    assert not one.changed()


def test_a_mark_of_ones_own_is_nothing_new(two: tuple[SqliteLedger, SqliteLedger]) -> None:
    one, other = two
    write(one, served())
    assert not one.changed()
    assert other.changed()


def test_what_another_marked_and_posted_is_in_the_refreshed_history(two: tuple[SqliteLedger, SqliteLedger]) -> None:
    one, other = two
    history = history_of(one, DAY)
    write(other, Posting(DAY, ((due("a1"), due("b2")),)), by=None)
    write(other, served("b2"), by="Ben")
    history = refresh(history, one)
    assert [each.tank for each in history.due(DAY)] == ["a1", "b2"]
    assert [entry.by for entry, _ in history.served_on("b2", DAY)] == ["Ben"]


def test_what_is_read_in_one_moment_does_not_change_meanwhile(two: tuple[SqliteLedger, SqliteLedger]) -> None:
    one, other = two
    with one.moment():
        before = one.last_seq()
        write(other, served())
        assert one.last_seq() == before
        assert one.read(DAY, DAY) == ()
    assert one.last_seq() == before + 1


def test_one_ledger_serves_several_threads(two: tuple[SqliteLedger, SqliteLedger]) -> None:
    one, _ = two
    with ThreadPoolExecutor(8) as pool:
        made = list(pool.map(lambda number: write(one, served(f"t{number}"), served(f"t{number}", "leaf")), range(40)))
    assert sorted(made) == list(range(1, 80, 2))
    assert len(one.read(DAY, DAY)) == 80
