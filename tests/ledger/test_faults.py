"""Whatever stands in the way of writing, the keeper reads what happened, to which file, and what to do."""

from __future__ import annotations

import os
import resource
import shutil
import sqlite3
import stat
from collections.abc import Callable, Iterator
from contextlib import closing, suppress
from pathlib import Path
from tempfile import mkdtemp

import pytest

from schedules.history import history_of
from schedules.ledger import LedgerFault, Noted
from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.copies.importing import import_lines
from schedules.ledger.copies.verify import verify
from schedules.ledger.stores.sqlite import open_ledger
from schedules.ledger.stores.sqlite.schema import VERSION
from tests.ledger.builders import DAY, MORNING, fill, served, write
from tests.ledger.earlier_versions import make_old


@pytest.fixture
def path(tmp_path: Path) -> Path:
    directory = tmp_path / "room"
    directory.mkdir()
    return directory / "room.ledger.db"


def test_a_ledger_held_by_another_program_is_told_of_and_the_mark_can_be_made_later(path: Path) -> None:
    with closing(open_ledger(path, patience=0.05)) as ledger, closing(sqlite3.connect(path)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(LedgerFault, match=r"room\.ledger\.db: another program holds the ledger.*try again"):
            write(ledger, served())
        other.rollback()
        assert write(ledger, served()) == 1


def test_reading_goes_on_while_another_program_holds_the_ledger(path: Path) -> None:
    with closing(open_ledger(path, patience=0.05)) as ledger, closing(sqlite3.connect(path)) as other:
        write(ledger, served())
        other.execute("BEGIN IMMEDIATE")
        assert len(ledger.read(DAY, DAY)) == 1
        other.rollback()


def test_a_directory_that_went_away_is_told_of_and_nothing_counts_as_saved(path: Path) -> None:
    with closing(open_ledger(path)) as ledger:
        write(ledger, served())
        shutil.rmtree(path.parent)
        with pytest.raises(LedgerFault, match="moved, removed or replaced"):
            write(ledger, served("b2"))


def test_a_log_that_was_removed_is_told_of(path: Path) -> None:
    with closing(open_ledger(path)) as ledger:
        write(ledger, served())
        Path(f"{path}-wal").unlink()
        with pytest.raises(LedgerFault, match="moved, removed or replaced"):
            write(ledger, served("b2"))


def test_a_ledger_replaced_by_another_file_is_told_of(path: Path) -> None:
    other = path.with_name("other.db")
    open_ledger(other).close()
    with closing(open_ledger(path)) as ledger:
        write(ledger, served())
        other.replace(path)
        with pytest.raises(LedgerFault, match="replaced"):
            write(ledger, served("b2"))


def _mark_in_another_program(path: Path, before: Callable[[], None]) -> str:
    """What came of marking one tank after another in a program that may do less than this one.

    A fork, for the lesser program may not even be allowed to read this one's files: how many were kept, and the fault.
    """
    reading, telling = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            before()
            os.write(telling, _mark_until_it_fails(path).encode())
        finally:
            os._exit(0)
    os.close(telling)
    with os.fdopen(reading) as pipe:
        told = pipe.read()
    os.waitpid(child, 0)
    return told


def _give_space() -> None:
    resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))


def _mark_until_it_fails(path: Path) -> str:
    kept, ledger = 0, None
    try:
        ledger = open_ledger(path)
        for number in range(2000):
            write(ledger, served(f"t{number}", "moss" * 20))
            kept += 1
    except LedgerFault as fault:
        _give_space()
        with suppress(LedgerFault):
            write(ledger or open_ledger(path), served("with space again"))
        return f"{kept} {fault}"
    return f"{kept} and no fault"


def test_a_full_disk_is_told_of_every_acknowledged_mark_is_there_and_the_next_can_be_made_later(path: Path) -> None:
    open_ledger(path).close()
    limit = 150_000

    def no_bigger_files() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, resource.RLIM_INFINITY))

    kept, _, told = _mark_in_another_program(path, no_bigger_files).partition(" ")
    assert "disk" in told
    assert "Nothing of the last mark was saved" in told
    assert int(kept) > 0
    with closing(open_ledger(path)) as ledger:
        assert ledger.last_seq() == int(kept) + 1
        assert ledger.last_act()[0].what == served("with space again")
    assert verify(path) == []


def _as_nobody() -> None:
    if os.getuid() == 0:
        os.setgroups([])
        os.setgid(65534)
        os.setuid(65534)


@pytest.fixture
def reachable() -> Iterator[Path]:
    """A ledger that also somebody else than its owner can reach; not below pytest's folder, which others may close."""
    directory = Path(mkdtemp())
    directory.chmod(0o755)
    path = directory / "room.ledger.db"
    with closing(open_ledger(path)) as ledger:
        write(ledger, served("before"))
    yield path
    directory.chmod(0o755)
    shutil.rmtree(directory)


def test_a_file_that_may_only_be_read_is_told_of(reachable: Path) -> None:
    reachable.chmod(0o444)
    reachable.parent.chmod(0o777)
    told = _mark_in_another_program(reachable, _as_nobody)
    assert told.startswith("0 ")
    assert "is read-only" in told
    assert "chmod" in told


def test_a_file_that_may_not_be_read_is_told_of(reachable: Path) -> None:
    reachable.chmod(0o000)
    assert "cannot be opened" in _mark_in_another_program(reachable, _as_nobody)


def test_a_directory_that_may_not_be_written_is_told_of(reachable: Path) -> None:
    new = reachable.with_name("new.db")
    reachable.parent.chmod(0o555)
    assert "you have no right to" in _mark_in_another_program(new, _as_nobody)
    assert not new.exists()


def test_a_missing_directory_is_told_of(tmp_path: Path) -> None:
    with pytest.raises(LedgerFault, match="no such file or directory"):
        open_ledger(tmp_path / "gone" / "room.ledger.db")


def test_a_missing_ledger_is_told_of_where_none_may_be_made(path: Path) -> None:
    with pytest.raises(LedgerFault, match="there is no ledger here"):
        open_ledger(path, create=False)
    assert not path.exists()


def test_a_directory_is_no_ledger(path: Path) -> None:
    with pytest.raises(LedgerFault, match="this is a directory"):
        open_ledger(path.parent)


@pytest.mark.parametrize("content", [b"", b"a room file, say", b"SQLite format 3\x00" + bytes(84), bytes(5000)])
def test_another_file_is_no_ledger_and_stays_as_it_is(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    with pytest.raises(LedgerFault, match="not a ledger"):
        open_ledger(path)
    assert path.read_bytes() == content


def test_another_programs_database_is_no_ledger_and_stays_as_it_is(path: Path) -> None:
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE entries (seq INTEGER PRIMARY KEY)")
    before = path.read_bytes()
    with pytest.raises(LedgerFault, match="not a ledger"):
        open_ledger(path)
    assert path.read_bytes() == before


def test_a_newer_programs_ledger_is_refused_politely_and_stays_as_it_is(path: Path) -> None:
    with closing(open_ledger(path)) as ledger:
        fill(ledger, 3)
    with closing(sqlite3.connect(path)) as newer:
        newer.execute(f"PRAGMA user_version = {VERSION + 1}")
    before = path.read_bytes()
    with pytest.raises(LedgerFault, match=f"newer Rackround .schema version {VERSION + 1}; .*up to {VERSION}"):
        open_ledger(path)
    assert path.read_bytes() == before


def test_a_ledger_with_tables_or_triggers_of_strangers_is_refused(path: Path) -> None:
    open_ledger(path).close()
    with closing(sqlite3.connect(path)) as stranger:
        stranger.execute("CREATE TRIGGER gift AFTER INSERT ON entries BEGIN SELECT 1; END")
    with pytest.raises(LedgerFault, match="gift"):
        open_ledger(path)


def test_a_closed_ledger_says_so_instead_of_breaking(path: Path) -> None:
    ledger = open_ledger(path)
    ledger.close()
    with pytest.raises(LedgerFault, match="could not be used"):
        ledger.last_seq()


def test_entries_can_be_neither_changed_nor_removed(path: Path) -> None:
    with closing(open_ledger(path)) as ledger:
        write(ledger, served())
        with closing(sqlite3.connect(path)) as other:
            for statement in ("UPDATE entries SET keeper = 'Eve'", "DELETE FROM entries"):
                with pytest.raises(sqlite3.IntegrityError, match="only ever added"):
                    other.execute(statement)


def test_a_ledger_and_what_stands_beside_it_are_for_their_owner_only(path: Path) -> None:
    old = os.umask(0)
    try:
        with closing(open_ledger(path)) as ledger:
            write(ledger, served())
            modes = {file.name: stat.S_IMODE(file.stat().st_mode) for file in path.parent.iterdir()}
    finally:
        os.umask(old)
    assert set(modes.values()) == {0o600}
    assert len(modes) == 4


@pytest.mark.parametrize("text", ["\ud800", "a\udcff"])
def test_what_is_no_text_is_refused(path: Path, text: str) -> None:
    with closing(open_ledger(path)) as ledger:
        with pytest.raises(LedgerFault, match="cannot be saved"):
            write(ledger, Noted(None, text))
        assert ledger.last_seq() == 0


@pytest.mark.parametrize("amount", [float("nan"), float("inf"), -1.0, 1e308])
def test_what_is_no_amount_is_refused(path: Path, amount: float) -> None:
    with closing(open_ledger(path)) as ledger:
        with pytest.raises(LedgerFault, match=r"amount: found .*, allowed is a number from 0 to 1000000000"):
            write(ledger, served(amount=amount))
        assert ledger.last_seq() == 0


def test_a_time_without_a_zone_is_refused(path: Path) -> None:
    with closing(open_ledger(path)) as ledger, pytest.raises(LedgerFault, match="a time with its zone"):
        write(ledger, served(), at=MORNING.replace(tzinfo=None))


def test_every_commit_of_a_ledger_is_synced_to_the_disk(path: Path) -> None:
    """The setting in force on the store's own connection: 2 is FULL (https://www.sqlite.org/pragma.html)."""
    with closing(open_ledger(path)) as ledger:
        write(ledger, served())
        for setting, value in (("synchronous", 2), ("fullfsync", 1), ("checkpoint_fullfsync", 1)):
            assert ledger.setting(setting) == value
        assert ledger.setting("journal_mode") == "wal"


def test_a_new_ledger_is_not_taken_for_the_one_whose_marker_lies_beside_it(path: Path) -> None:
    with closing(open_ledger(path)) as ledger:
        fill(ledger, 5)
    path.unlink()
    kept = Path(f"{path}-wal.damaged")
    kept.write_bytes(b"kept for a repair")
    import_lines(['{"format":"rackround-ledger/1","entries":0}'], path)
    open_ledger(path).close()
    assert verify(path) == []
    assert kept.exists()


def test_a_new_ledger_is_not_made_where_the_log_of_another_still_holds_entries(path: Path) -> None:
    with closing(open_ledger(path)) as ledger:
        write(ledger, served())
        path.rename(path.with_name("moved.db"))
        with pytest.raises(LedgerFault, match=r"ledger\.db-wal: this log belongs to a ledger that is not here"):
            open_ledger(path)
    assert not path.exists()


def _answers_as_nobody(ask: Callable[[], str]) -> str:
    """What a program that may only read finds."""
    reading, telling = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            _as_nobody()
            os.write(telling, ask().encode())
        except BaseException as error:
            os.write(telling, repr(error).encode())
        finally:
            os._exit(0)
    os.close(telling)
    with os.fdopen(reading) as pipe:
        told = pipe.read()
    os.waitpid(child, 0)
    return told


@pytest.mark.parametrize("version", range(1, VERSION + 1))
@pytest.mark.parametrize("directory", [0o777, 0o555])
def test_a_read_only_ledger_of_any_version_can_be_read_exported_and_verified(
    version: int, directory: int, reachable: Path
) -> None:
    path = reachable
    if version < VERSION:
        path = path.with_name("old.db")
        make_old(path, version)
    before = path.read_bytes()
    path.chmod(0o444)
    path.parent.chmod(directory)

    def ask() -> str:
        found = verify(path)
        with closing(open_ledger(path)) as ledger:
            history = history_of(ledger, DAY)
            lines = list(export_lines(ledger))
            return f"{found} {len(history.entries) > 0} {len(lines) - 1 == ledger.last_seq()}"

    assert _answers_as_nobody(ask) == "[] True True"
    assert path.read_bytes() == before
