"""An older ledger becomes a newer one whole, with a copy of what it was."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

from schedules.ledger import LedgerFault, migration
from schedules.ledger.connection import bring_up
from schedules.ledger.lines import line_of
from schedules.ledger.migration import copy_name
from schedules.ledger.schema import STEPS, VERSION, objects
from schedules.ledger.sqlite_ledger import open_ledger
from schedules.ledger.verify import verify
from tests.ledger.builders import DAY, served, write
from tests.ledger.crash import make_old


def _version(path: Path) -> int:
    with closing(sqlite3.connect(path)) as connection:
        return int(connection.execute("PRAGMA user_version").fetchone()[0])


def _lines(path: Path) -> list[str]:
    with closing(open_ledger(path)) as ledger:
        return [line_of(entry) for entry in ledger.everything()]


def test_an_old_ledger_is_brought_up_to_date_with_every_entry(tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    expected = make_old(path)
    assert _version(path) == 1
    assert _lines(path) == list(expected.values())
    assert _version(path) == VERSION
    assert verify(path) == []
    with closing(open_ledger(path)) as ledger:
        assert ledger.first_served()["t7", "dust"] == DAY
        write(ledger, served("new", "leaf"))
        assert ledger.last_served(DAY.replace(year=2027))["new", "leaf"] == DAY


def test_a_copy_of_the_old_ledger_is_kept_for_its_owner(tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    expected = make_old(path)
    open_ledger(path).close()
    copy = copy_name(path, 1)
    assert _version(copy) == 1
    assert verify(copy) == []
    assert copy.stat().st_mode & 0o777 == 0o600
    assert _lines(copy) == list(expected.values())


def test_a_ledger_of_today_is_opened_without_a_copy(tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    open_ledger(path).close()
    open_ledger(path).close()
    assert [file.name for file in tmp_path.iterdir()] == [path.name]


def test_a_change_of_form_that_fails_half_way_leaves_the_old_form(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "room.ledger.db"
    expected = make_old(path)

    def half_way(connection: sqlite3.Connection, version: int) -> None:
        for statement in STEPS[version][:2]:
            connection.execute(statement)
        raise sqlite3.OperationalError("the power went")

    monkeypatch.setattr(migration, "bring_up", half_way)
    with pytest.raises(LedgerFault, match="the power went"):
        open_ledger(path)
    assert _version(path) == 1
    assert verify(path) == []
    monkeypatch.setattr(migration, "bring_up", bring_up)
    assert _lines(path) == list(expected.values())


def test_of_two_programs_that_open_an_old_ledger_at_once_both_can_use_it(tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    expected = make_old(path)
    with ThreadPoolExecutor(4) as pool:
        found = list(pool.map(lambda _: _lines(path), range(4)))
    assert found == [list(expected.values())] * 4
    assert verify(path) == []


def test_an_old_ledger_with_tables_of_strangers_is_not_touched(tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    make_old(path)
    with closing(sqlite3.connect(path)) as stranger:
        stranger.execute("CREATE TABLE gift (thing)")
    with pytest.raises(LedgerFault, match="gift"):
        open_ledger(path)
    assert _version(path) == 1


def test_every_form_has_all_that_the_one_before_it_had() -> None:
    for version in range(1, VERSION):
        assert objects(version).items() <= objects(version + 1).items()
