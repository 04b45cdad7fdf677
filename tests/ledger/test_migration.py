"""An older ledger becomes a newer one whole, with a copy of what it was."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from datetime import timedelta
from hashlib import blake2b
from pathlib import Path
from typing import Final

import pytest

from schedules.ledger import Acknowledged, AlreadyMarked, Ledger, LedgerFault, Reason, Served, Skipped, Undone
from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.copies.importing import import_lines
from schedules.ledger.copies.repair import repair
from schedules.ledger.copies.verify import verify
from schedules.ledger.stores.sqlite import migration, open_ledger
from schedules.ledger.stores.sqlite.connection import bring_up
from schedules.ledger.stores.sqlite.earlier import prepare
from schedules.ledger.stores.sqlite.migration import copy_name
from schedules.ledger.stores.sqlite.schema import STEPS, VERSION, objects
from tests.ledger.builders import DAY, due, seen, served, write
from tests.ledger.earlier_versions import make_old

OLDER: Final = range(1, VERSION)


def _version(path: Path) -> int:
    with closing(sqlite3.connect(path)) as connection:
        return int(connection.execute("PRAGMA user_version").fetchone()[0])


def _chains(path: Path) -> list[bytes]:
    with closing(sqlite3.connect(path)) as connection:
        return [chain for (chain,) in connection.execute("SELECT chain FROM entries ORDER BY seq")]


def _undone(ledger: Ledger) -> int:
    """The first act that was undone."""
    return next(entry.what.act for entry in ledger.everything() if isinstance(entry.what, Undone))


def _lines(path: Path) -> list[str]:
    with closing(open_ledger(path)) as ledger:
        return list(ledger.lines())


@pytest.mark.parametrize("version", OLDER)
def test_an_old_ledger_is_brought_up_to_date_with_every_entry(version: int, tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    expected = make_old(path, version)
    assert _version(path) == version
    assert verify(path) == []
    assert _lines(path) == list(expected.values())
    assert _version(path) == VERSION
    assert verify(path) == []
    with closing(open_ledger(path)) as ledger:
        assert ledger.first_served()["t7", "dust"] == DAY
        write(ledger, served("new", "leaf"))
        assert ledger.last_served(DAY.replace(year=2027))["new", "leaf"] == DAY
        write(ledger, seen("t7"))
    assert verify(path) == []


@pytest.mark.parametrize("version", OLDER)
def test_the_chain_of_an_old_ledger_goes_on_unbroken_in_the_new_form(version: int, tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    make_old(path, version)
    before = _chains(path)
    with closing(open_ledger(path)) as ledger:
        write(ledger, seen("t7"))
    after = _chains(path)

    assert len(before) > 100
    assert after[:-1] == before


@pytest.mark.parametrize("version", OLDER)
def test_a_repair_of_a_ledger_brought_up_to_date_saves_every_entry_once(version: int, tmp_path: Path) -> None:
    """Pages of the old table may still lie in the file."""
    path, repaired = tmp_path / "room.ledger.db", tmp_path / "repaired.ledger.db"
    expected = make_old(path, version)
    open_ledger(path).close()
    assert repair(path, repaired) == []
    assert _lines(repaired) == list(expected.values())


@pytest.mark.parametrize("version", OLDER)
def test_what_was_marked_or_undone_in_the_old_form_is_so_in_the_new_one(version: int, tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    make_old(path, version)
    with closing(open_ledger(path)) as ledger:
        with pytest.raises(AlreadyMarked, match="Ana"):
            write(ledger, served("t7"), by="Ben")
        with pytest.raises(AlreadyMarked):
            write(ledger, Undone(_undone(ledger)), by="Ben")
    with closing(sqlite3.connect(path)) as connection, pytest.raises(sqlite3.IntegrityError, match="only ever added"):
        connection.execute("DELETE FROM entries")


def test_the_tables_of_a_released_form_are_never_edited() -> None:
    digests = [blake2b(repr(sorted(objects(version).items())).encode(), digest_size=8).hexdigest() for version in OLDER]
    assert digests == ["5bc2c3ca278af207", "2c49e96d1825a29d", "0e2327c8ce57d34a"]


@pytest.mark.parametrize("version", OLDER)
def test_a_copy_of_the_old_ledger_is_kept_for_its_owner(version: int, tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    expected = make_old(path, version)
    open_ledger(path).close()
    copy = copy_name(path, version)
    assert _version(copy) == version
    assert verify(copy) == []
    assert copy.stat().st_mode & 0o777 == 0o600
    assert _lines(copy) == list(expected.values())


def test_a_ledger_of_today_is_opened_without_a_copy(tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    open_ledger(path).close()
    open_ledger(path).close()
    assert [file.name for file in tmp_path.iterdir()] == [path.name]


@pytest.mark.parametrize("version", OLDER)
def test_a_change_of_form_that_fails_half_way_leaves_the_old_form(
    version: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "room.ledger.db"
    expected = make_old(path, version)

    def half_way(connection: sqlite3.Connection, version: int) -> None:
        prepare(connection)
        for statement in STEPS[version][:3]:
            connection.execute(statement)
        raise sqlite3.OperationalError("the power went")

    monkeypatch.setattr(migration, "bring_up", half_way)
    with pytest.raises(LedgerFault, match="the power went"):
        open_ledger(path)
    assert _version(path) == version
    assert verify(path) == []
    monkeypatch.setattr(migration, "bring_up", bring_up)
    assert _lines(path) == list(expected.values())


@pytest.mark.parametrize("version", OLDER)
def test_of_two_programs_that_open_an_old_ledger_at_once_both_can_use_it(version: int, tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    expected = make_old(path, version)
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


@pytest.mark.parametrize("version", OLDER)
def test_what_was_written_in_an_earlier_version_is_read_as_what_is_written_now(version: int, tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    lines = make_old(path, version)
    with closing(open_ledger(path)) as ledger:
        entries = list(ledger.everything())
        servings = [entry.what for entry in entries if isinstance(entry.what, Served)]
        skips = [entry.what for entry in entries if isinstance(entry.what, Skipped)]
        assert {what.part for what in servings} == {0.3}
        assert {what.because for what in skips} == {Reason.other("ill")}
        posting = ledger.posting(DAY + timedelta(days=6))
        assert posting is not None
        assert posting.days == ((due("t6"),),)
        if version == 3:
            flags = [entry.what for entry in entries if isinstance(entry.what, Acknowledged)]
            assert {what.severity for what in flags} == {"medium"}
    assert any('"share":0.3' in line for line in lines.values())


@pytest.mark.parametrize("version", OLDER)
def test_an_export_of_an_old_ledger_has_its_lines_and_can_be_imported(version: int, tmp_path: Path) -> None:
    path, to = tmp_path / "room.ledger.db", tmp_path / "again.ledger.db"
    expected = make_old(path, version)
    with closing(open_ledger(path)) as ledger:
        write(ledger, served("new"))
        exported = list(export_lines(ledger))
    assert [line.partition(',"chain"')[0] + "}" for line in exported[1:-1]] == list(expected.values())
    import_lines(exported, to)
    with closing(open_ledger(to)) as ledger:
        assert list(export_lines(ledger)) == exported
    assert verify(to) == []


@pytest.mark.parametrize("version", OLDER)
def test_a_damaged_old_ledger_is_repaired_as_it_is(version: int, tmp_path: Path) -> None:
    path, repaired = tmp_path / "room.ledger.db", tmp_path / "repaired.ledger.db"
    expected = make_old(path, version)
    assert repair(path, repaired) == []
    assert _lines(repaired) == list(expected.values())
