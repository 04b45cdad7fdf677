"""Copies of a ledger: made in use, written out as lines, read in again; exact or refused."""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Event, Thread

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from demo_racks import room_path
from schedules.ledger import LedgerFault, Posting, Undone
from schedules.ledger.copies import importing
from schedules.ledger.copies.backup import backup
from schedules.ledger.copies.copying import copy_ledger
from schedules.ledger.copies.exporting import export_lines, export_to
from schedules.ledger.copies.importing import import_file, import_lines
from schedules.ledger.copies.verify import oddities, verify
from schedules.ledger.stores.opening import open_at
from schedules.ledger.stores.sqlite import open_ledger
from schedules.ledger.stores.sqlite.schema import VERSION
from schedules.planning.opening import open_day
from schedules.planning.posting import plan_days
from schedules.room_file import load_room
from schedules.round import as_served
from tests.ledger.builders import DAY, MORNING, due, fill, served, write
from tests.ledger.earlier_versions import make_old
from tests.ledger.places import STORES, lines_of, opened, places


def _lines(path: Path) -> list[str]:
    with closing(open_ledger(path, create=False)) as ledger:
        return list(export_lines(ledger))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "room.ledger.db"
    with closing(open_ledger(path)) as ledger:
        fill(ledger, 20)
    return path


def test_what_was_written_out_and_read_in_again_is_the_same_to_the_letter(path: Path) -> None:
    lines = _lines(path)
    to = path.with_name("again.db")
    assert import_lines(lines, to) == len(lines) - 1
    assert _lines(to) == lines
    assert verify(to) == []
    assert to.stat().st_mode & 0o777 == 0o600


def test_an_export_is_a_file_of_those_lines_for_its_owner_only(path: Path) -> None:
    lines, to = _lines(path), path.with_name("ledger.jsonl")
    with closing(open_ledger(path)) as ledger:
        assert export_to(ledger, to) == len(lines) - 1
        with pytest.raises(LedgerFault, match="exists already"):
            export_to(ledger, to)
    assert to.read_bytes().decode("ascii") == "".join(f"{line}\n" for line in lines)
    assert to.stat().st_mode & 0o777 == 0o600


def test_a_ledger_read_in_gives_the_same_plan(tmp_path: Path) -> None:
    room, path, to = load_room(room_path("first_rack")), tmp_path / "a.db", tmp_path / "b.db"
    now = datetime(2026, 11, 20, 8, tzinfo=UTC)
    with closing(open_ledger(path)) as ledger:
        at, today = now, room.day(now)
        for number in range(4):
            at = now + timedelta(days=number)
            today = room.day(at)
            servings = open_day(room, ledger, at).due(today)
            ledger.append([as_served(serving) for serving in servings[::2]], day=today, at=at, by="Ana")
        import_lines(list(export_lines(ledger)), to)
        with closing(open_ledger(to)) as other:
            plans = [plan_days(room, open_day(room, each, at), today) for each in (ledger, other)]
    assert plans[0] == plans[1]
    assert len(plans[0][1].slots) > 0


def test_an_empty_ledger_can_be_written_out_and_read_in(tmp_path: Path) -> None:
    path, to = tmp_path / "a.db", tmp_path / "b.db"
    open_ledger(path).close()
    assert import_lines(_lines(path), to) == 0
    assert _lines(to) == ['{"format":"rackround-ledger/1","entries":0}']


def _edited(number: int, **values: object) -> Callable[[list[str]], list[str]]:
    return lambda lines: [
        json.dumps(json.loads(line) | values) if at == number else line for at, line in enumerate(lines)
    ]


Change = Callable[[list[str]], list[str]]
CHANGES: dict[str, tuple[Change, str]] = {
    "keeper": (_edited(5, by="Eve"), "log.jsonl:5: the entries of act 4 differ"),
    "amount": (_edited(2, amount=50.0), "log.jsonl:3: .*it was changed"),
    "chain": (_edited(4, chain="00"), "log.jsonl:5: .*it was changed"),
    "kind": (_edited(3, kind="eaten"), 'log.jsonl:4: kind: found "eaten \\(2\\)", allowed is .*served \\(2\\)'),
    "type": (_edited(3, amount="much"), 'log.jsonl:4: amount: found "much", allowed is a number from 0'),
    "date": (_edited(3, day="2026-02-30"), 'log.jsonl:4: day: found "2026-02-30", allowed is a day'),
    "time": (_edited(3, at="2026-11-25T07:00:00"), 'log.jsonl:4: at: found "2026-11-25T07:00:00", allowed is a time'),
    "cut": (lambda lines: lines[:-1], "lines were lost or added"),
    "one out": (lambda lines: [*lines[:3], *lines[4:]], "log.jsonl:4: "),
    "order": (lambda lines: [lines[0], lines[2], lines[1], *lines[3:]], "log.jsonl:2: "),
    "depth": (lambda lines: [*lines[:2], "[" * 100_000, *lines[2:]], "log.jsonl:3: this is not a line of JSON"),
    "half": (lambda lines: [*lines[:2], "{", *lines[2:]], "log.jsonl:3: this is not a line of JSON"),
    "number": (lambda lines: [*lines[:2], "7", *lines[2:]], "log.jsonl:3: found 7, allowed is a JSON object"),
    "no head": (lambda lines: lines[1:], "log.jsonl:1: found .*, allowed is the head"),
    "nothing": (lambda _: [], "log.jsonl:1: "),
    "twice": (lambda lines: [*lines, lines[-1]], "log.jsonl:"),
}


@pytest.mark.parametrize(("change", "told"), CHANGES.values(), ids=CHANGES)
def test_lines_that_were_altered_are_refused_by_their_number_and_leave_nothing(
    path: Path, change: Change, told: str
) -> None:
    to = path.with_name("again.db")
    with pytest.raises(LedgerFault, match=told):
        import_lines(change(_lines(path)), to, "log.jsonl")
    assert not to.exists()
    assert [file.name for file in path.parent.iterdir() if "again" in file.name] == []


@settings(max_examples=30, deadline=None)
@given(place=st.floats(0, 1, exclude_max=True), put=st.characters(exclude_categories=["Cs"]))
def test_one_changed_character_never_gives_another_ledger(
    tmp_path_factory: pytest.TempPathFactory, place: float, put: str
) -> None:
    directory = tmp_path_factory.mktemp("lines")
    with closing(open_ledger(directory / "a.db")) as ledger:
        fill(ledger, 3)
        lines = list(export_lines(ledger))
    text = "\n".join(lines)
    at = int(place * len(text))
    changed = (text[:at] + put + text[at + 1 :]).split("\n")
    try:
        import_lines(changed, directory / "b.db")
    except LedgerFault:
        return
    assert _lines(directory / "b.db") == lines


def test_nothing_that_is_there_already_is_written_over(path: Path) -> None:
    to = path.with_name("precious.txt")
    to.write_text("precious")
    with pytest.raises(LedgerFault, match="exists already and was not changed"):
        import_lines(_lines(path), to)
    with pytest.raises(LedgerFault, match="exists already and was not changed"):
        backup(path, to)
    assert to.read_text() == "precious"


def test_a_copy_made_while_others_write_is_whole_and_of_one_moment(path: Path) -> None:
    stop = Event()

    def write_on() -> None:
        with closing(open_ledger(path)) as ledger:
            number = 0
            while not stop.is_set():
                number += 1
                write(ledger, served(f"w{number}"), served(f"w{number}", "leaf"))

    writer = Thread(target=write_on)
    writer.start()
    try:
        counts = [backup(path, path.with_name(f"copy {number}.db")) for number in range(5)]
    finally:
        stop.set()
        writer.join()
    whole = _lines(path)
    for number, count in enumerate(counts):
        copy = path.with_name(f"copy {number}.db")
        assert verify(copy) == []
        assert _lines(copy)[1:] == whole[1 : count + 1]
        assert copy.stat().st_mode & 0o777 == 0o600
    assert counts == sorted(counts)


def test_a_copy_cannot_be_made_of_what_is_no_ledger(tmp_path: Path) -> None:
    path = tmp_path / "letter.txt"
    path.write_text("dear keeper " * 100)
    with pytest.raises(LedgerFault, match="not a ledger"):
        backup(path, tmp_path / "copy.db")
    with pytest.raises(LedgerFault, match="cannot be opened"):
        backup(tmp_path / "gone.db", tmp_path / "copy.db")
    assert not (tmp_path / "copy.db").exists()


def test_what_is_unusual_but_sound_is_told_apart_from_damage(path: Path) -> None:
    with closing(open_ledger(path)) as ledger:
        write(ledger, served("x"), at=MORNING + timedelta(days=2))
        write(ledger, served("y"), at=MORNING)
        write(ledger, served("x", round_id="evening"), at=MORNING)
        write(ledger, Posting(DAY - timedelta(days=1), ((due(),),)), by=None)
    assert verify(path) == []
    told = oddities(path)
    assert len(told) == 3
    assert "the clock went back" in told[0]
    assert "posts a plan from 2026-11-24 on, though it was 2026-11-25 already" in told[1]
    assert "moss was given to x 2 times on 2026-11-25" in told[2]


def test_a_mark_undone_and_made_again_is_nothing_unusual(path: Path) -> None:
    with closing(open_ledger(path)) as ledger:
        at = MORNING + timedelta(days=1)
        made = write(ledger, served("z"), at=at)
        write(ledger, Undone(made), at=at)
        write(ledger, served("z"), at=at)
    assert oddities(path) == []
    assert verify(path) == []


def test_a_ledger_that_is_not_there_cannot_be_verified(tmp_path: Path) -> None:
    with pytest.raises(LedgerFault, match="there is no ledger here"):
        verify(tmp_path / "gone.db")


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"orders": [1]}, r"log.jsonl:2: orders: found \[1\], allowed is an object"),
        ({"orders": {"0": [7]}}, r"log.jsonl:2: orders.0: found \[7\], allowed is a list of places from 0 to 1"),
        ({"orders": {"9": [0]}}, "log.jsonl:2: orders: found .*, allowed is a list under a day's number from 0 to 1"),
        ({"tank": [-1, 0]}, "log.jsonl:2: tank: found -1, allowed is a list of places from 0 to 1"),
        ({"on": ["zz", "1"]}, 'log.jsonl:2: on: found "zz", allowed is a list of numbers in hexadecimal'),
        ({"part": [1e308, 0.3]}, r"log.jsonl:2: posted: part: found 1e\+308, allowed is a number from 0 to 1000000000"),
        ({"wind": 3}, "log.jsonl:2: wind: found 3, allowed is only the keys start, days"),
    ],
)
def test_a_plan_of_other_values_is_refused_by_line_and_key(path: Path, change: dict[str, object], told: str) -> None:
    with pytest.raises(LedgerFault, match=told):
        import_lines(_edited(1, **change)(_lines(path)), path.with_name("again.db"), "log.jsonl")


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"amount": 1e308}, r"log.jsonl:3: served: amount: found 1e\+308, allowed is a number from 0 to 1000000000"),
        ({"amount": 10**400}, "log.jsonl:3: amount: found 1000.*…, allowed is a number from 0 to 1000000000"),
        (
            {"orders": [1]},
            r"log.jsonl:3: orders: found \[1\], allowed is only the keys seq, act, day, at, by",
        ),
        ({"v": 3}, r"log.jsonl:3: kind: found \"served \(3\)\", allowed is up to the schema version in brackets"),
        ({"v": 1}, "log.jsonl:3: share: found null, allowed is a value under this key, which is missing"),
        ({"seq": 2**70}, "log.jsonl:3: seq: found"),
    ],
)
def test_an_entry_of_other_values_is_refused_by_line_and_key(path: Path, change: dict[str, object], told: str) -> None:
    with pytest.raises(LedgerFault, match=told):
        import_lines(_edited(2, **change)(_lines(path)), path.with_name("again.db"), "log.jsonl")


def test_a_file_is_imported_and_a_line_without_end_is_refused_before_it_is_read(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    source, to = tmp_path / "log.jsonl", tmp_path / "again.db"
    with closing(open_ledger(path)) as ledger:
        count = export_to(ledger, source)
    assert import_file(source, to) == count
    longest = max(map(len, source.read_text().splitlines()))
    monkeypatch.setattr(importing, "LONGEST", longest - 10)
    with pytest.raises(LedgerFault, match=rf"log.jsonl:\d+: found a line of more than {longest - 10} characters"):
        import_file(source, tmp_path / "third.db")
    assert not (tmp_path / "third.db").exists()


def test_an_act_without_end_is_refused_before_it_is_read(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(importing, "MOST_OF_ACT", 1)
    with pytest.raises(LedgerFault, match=r"log.jsonl:3: act 2 has more than the allowed 1 entries"):
        import_lines(_lines(path), path.with_name("again.db"), "log.jsonl")


def test_what_is_no_text_is_not_imported(tmp_path: Path) -> None:
    source = tmp_path / "log.jsonl"
    source.write_bytes(b"\xff\xfe")
    with pytest.raises(LedgerFault, match=r"log\.jsonl: this is not a text in UTF-8"):
        import_file(source, tmp_path / "again.db")
    with pytest.raises(LedgerFault, match=r"gone\.jsonl: cannot be read"):
        import_file(tmp_path / "gone.jsonl", tmp_path / "again.db")


# Moved between stores


@pytest.mark.parametrize("stores", [("file", "server"), ("server", "file"), ("server", "server"), ("file", "file")])
def test_a_ledger_moved_to_another_store_exports_the_same_to_the_letter(stores: tuple[str, str]) -> None:
    with places(stores[0]) as sources, places(stores[1]) as targets:
        source, to = opened(sources(), lambda ledger: fill(ledger, 20)), targets()
        lines = lines_of(source)
        assert copy_ledger(source, to) == len(lines) - 1
        assert lines_of(to) == lines
        assert verify(to) == []
        with closing(open_at(to)) as ledger:
            assert write(ledger, served("later")) == len(lines), "the copy goes on where the ledger was"


@pytest.mark.parametrize("version", range(1, VERSION))
def test_lines_of_earlier_versions_move_to_a_server_as_they_were_written(version: int, tmp_path: Path) -> None:
    source = tmp_path / "old.db"
    make_old(source, version)
    with places("server") as targets:
        to = targets()
        copy_ledger(source, to)
        assert lines_of(to) == lines_of(source)
        assert verify(to) == []


@pytest.mark.parametrize("store", STORES)
def test_a_ledger_is_never_copied_over_another(path: Path, store: str) -> None:
    with places(store) as targets:
        to = opened(targets(), lambda ledger: write(ledger, served("precious")))
        before = lines_of(to)
        with pytest.raises(LedgerFault, match="already"):
            copy_ledger(path, to)
        assert lines_of(to) == before


def test_lines_that_were_altered_leave_nothing_on_a_server(path: Path) -> None:
    with places("server") as targets:
        to = targets()
        with pytest.raises(LedgerFault, match=r"log\.jsonl:3: .*it was changed"):
            import_lines(_edited(2, amount=50.0)(_lines(path)), to, "log.jsonl")
        with pytest.raises(LedgerFault, match="there is no ledger here"):
            open_at(to, create=False)


def test_a_backup_of_a_ledger_on_a_server_is_a_file_with_the_same_lines(tmp_path: Path) -> None:
    with places("server") as sources:
        source, to = opened(sources(), lambda ledger: fill(ledger, 5)), tmp_path / "backup.db"
        assert backup(source, to) == len(lines_of(source)) - 1
        assert lines_of(to) == lines_of(source)
        assert to.stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("more", [1, -1])
def test_lines_beyond_the_number_in_the_head_are_refused_as_lines_that_are_missing_are(path: Path, more: int) -> None:
    lines = _lines(path)
    count = len(lines) - 1
    lines[0] = lines[0].replace(f'"entries":{count}', f'"entries":{count + more}')
    to = path.with_name("again.db")
    with pytest.raises(LedgerFault, match=f"its head says {count + more} entries, found {count}"):
        import_lines(lines, to)
    assert not to.exists()
