"""Cut short and flipped bits, anywhere in the ledger, its log and its marker: found or harmless, never a traceback."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from shutil import rmtree
from tempfile import mkdtemp

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from schedules.ledger import Entry, LedgerFault, LostEnd
from schedules.ledger.copies.repair import repair
from schedules.ledger.copies.verify import verify
from schedules.ledger.stores.sqlite import accept_lost_end, open_ledger
from tests.ledger.builders import DAY, fill, put_back, served, with_beside, write

Files = dict[str, bytes]


def _everything(path: Path) -> list[Entry]:
    with closing(open_ledger(path, create=False)) as ledger:
        return list(ledger.everything())


class Sound:
    """A ledger as it lay on the disk when its program was killed, with most entries in the file and some in the log."""

    def __init__(self, directory: Path) -> None:
        self.path = directory / "room.ledger.db"
        with closing(open_ledger(self.path)) as ledger:
            fill(ledger, 60)
        with closing(open_ledger(self.path)) as ledger:
            write(ledger, served("late 1"), served("late 2"))
            write(ledger, served("late 3"), served("late 4"))
            self.files = with_beside(self.path)
            self.entries = list(ledger.everything())

    def damaged(self, tail: str, data: bytes) -> Path:
        """The ledger with one of its files replaced."""
        put_back(self.path, self.files | {tail: data})
        return self.path


@pytest.fixture(scope="module")
def sound() -> Iterator[Sound]:
    directory = Path(mkdtemp())
    yield Sound(directory)
    rmtree(directory)


def _found_or_harmless(sound: Sound, tail: str, data: bytes) -> None:
    """Either nothing is wrong with any entry, or somebody is told."""
    path = sound.damaged(tail, data)
    try:
        entries = _everything(path)
    except LedgerFault as told:
        assert str(path) in str(told)
        return
    if entries != sound.entries:
        assert verify(path) != []


PLACES = st.floats(0, 1, exclude_max=True)
TAILS = st.sampled_from(("", "-wal", "-last"))


@settings(max_examples=150, deadline=None)
@given(tail=TAILS, place=PLACES, bit=st.integers(0, 7))
@example(tail="-wal", place=0.5, bit=0)
def test_a_flipped_bit_is_found_or_harmless(sound: Sound, tail: str, place: float, bit: int) -> None:
    data = bytearray(sound.files[tail])
    data[int(place * len(data))] ^= 1 << bit
    _found_or_harmless(sound, tail, bytes(data))


@settings(max_examples=100, deadline=None)
@given(tail=TAILS, place=PLACES)
def test_a_file_cut_short_is_found_or_harmless(sound: Sound, tail: str, place: float) -> None:
    data = sound.files[tail]
    _found_or_harmless(sound, tail, data[: int(place * len(data))])


@settings(max_examples=60, deadline=None)
@given(place=PLACES)
def test_a_log_whose_end_was_never_saved_gives_whole_acts_and_no_fault(sound: Sound, place: float) -> None:
    """A power cut: what was not yet acknowledged is missing from the log, and so the marker does not tell of it."""
    log = sound.files["-wal"]
    put_back(sound.path, {"": sound.files[""], "-wal": log[: int(place * len(log))]})
    entries = _everything(sound.path)
    assert entries == sound.entries[: len(entries)]
    assert len(sound.entries) - len(entries) in (0, 2, 4)
    assert verify(sound.path) == []


@settings(max_examples=40, deadline=None)
@given(tail=st.sampled_from(("", "-wal")), place=PLACES, size=st.integers(1, 6000))
def test_a_repair_saves_what_can_be_read_and_tells_what_cannot(
    sound: Sound, tail: str, place: float, size: int
) -> None:
    data = bytearray(sound.files[tail])
    at = int(place * len(data))
    data[at : at + size] = bytes(len(data[at : at + size]))
    path = sound.damaged(tail, bytes(data))
    to = path.with_name("repaired.db")
    put_back(to, {})
    report = repair(path, to)
    assert verify(to) == []
    saved = {(entry.day, entry.at, entry.by, entry.what) for entry in _everything(to)}
    expected = {(entry.day, entry.at, entry.by, entry.what) for entry in sound.entries}
    if report == []:
        assert saved == expected


def test_marks_lost_from_the_log_are_told_of_until_a_keeper_accepts_it(sound: Sound) -> None:
    path = sound.damaged("-wal", b"")
    for _ in range(2):
        with pytest.raises(LostEnd, match="4 entries are missing at its end") as told:
            open_ledger(path)
        assert told.value.missing == 4
        assert ["4 entries are missing at its end" in finding for finding in verify(path)] == [True]
    assert accept_lost_end(path) == len(sound.entries) - 4
    assert _everything(path) == sound.entries[:-4]
    assert verify(path) == []


def test_a_lost_end_can_still_be_repaired_after_it_was_accepted(sound: Sound) -> None:
    log = bytearray(sound.files["-wal"])
    log[40] ^= 1
    path = sound.damaged("-wal", bytes(log))
    with pytest.raises(LostEnd):
        open_ledger(path)
    accept_lost_end(path)
    open_ledger(path).close()
    to = path.with_name("repaired.db")
    put_back(to, {})
    assert repair(path, to) == []
    assert _everything(to) == sound.entries


def test_verify_changes_nothing_at_all(sound: Sound) -> None:
    log = bytearray(sound.files["-wal"])
    log[40] ^= 1
    for files in (
        sound.files,
        sound.files | {"-wal": bytes(log)},
        {"": sound.files[""], "-last": sound.files["-last"]},
    ):
        put_back(sound.path, files)
        verify(sound.path)
        assert with_beside(sound.path) == files


def test_another_ledger_in_its_place_is_told_of_without_a_number(sound: Sound, tmp_path: Path) -> None:
    with closing(open_ledger(tmp_path / "other.db")) as other:
        fill(other, 90)
    path = sound.damaged("", (tmp_path / "other.db").read_bytes())
    Path(f"{path}-wal").unlink()
    with pytest.raises(LostEnd, match="another ledger") as told:
        open_ledger(path)
    assert told.value.missing is None


def test_a_repair_finds_in_the_damaged_log_what_the_ledger_lost(sound: Sound) -> None:
    log = bytearray(sound.files["-wal"])
    log[40] ^= 1
    path = sound.damaged("-wal", bytes(log))
    with pytest.raises(LedgerFault, match="missing at its end"):
        open_ledger(path)
    to = path.with_name("repaired.db")
    put_back(to, {})
    assert repair(path, to) == []
    assert _everything(to) == sound.entries


@pytest.mark.parametrize("change", ["amount", "tank", "mark", "keeper", "order", "end"])
def test_an_entry_changed_behind_the_programs_back_is_found(tmp_path: Path, change: str) -> None:
    path = tmp_path / "room.ledger.db"
    with closing(open_ledger(path)) as ledger:
        fill(ledger, 60)
    statement = {
        "amount": "UPDATE entries SET body = replace(body, '0.5', '5.0') WHERE seq = 2",
        "tank": "UPDATE entries SET tank = 'b9' WHERE seq = 2",
        "mark": "UPDATE entries SET mark = NULL WHERE seq = 2",
        "keeper": "UPDATE entries SET keeper = 'Eve' WHERE seq = 9",
        "order": "UPDATE entries SET at = at + 1 WHERE seq = 9",
        "end": "DELETE FROM entries WHERE seq = (SELECT max(seq) FROM entries)",
    }[change]
    with closing(sqlite3.connect(path)) as connection:
        triggers = connection.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").fetchall()
        for name, _ in triggers:
            connection.execute(f"DROP TRIGGER {name}")
        connection.execute(statement)
        for _, sql in triggers:
            connection.execute(sql)
        connection.commit()
    assert len(verify(path)) > 0


def test_a_sound_ledger_verifies(tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    with closing(open_ledger(path)) as ledger:
        fill(ledger, 10)
        write(ledger, served("t0", "dust"), day=DAY)
        assert verify(path) == []
    assert verify(path) == []
