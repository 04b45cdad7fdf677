"""`rackround doctor` says what is installed and where things lie, and ends with 2 where something is at fault."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path

import pytest

from tests.tui.rooms import room_text
from tui.cli.main import run


@pytest.fixture
def room(tmp_path: Path) -> Path:
    path = tmp_path / "room.toml"
    path.write_text(room_text(), encoding="utf-8")
    return path


def findings(capsys: pytest.CaptureFixture[str]) -> list[dict[str, str]]:
    document = json.loads(capsys.readouterr().out)
    assert document["format"] == "rackround-doctor/1"
    found: list[dict[str, str]] = document["findings"]
    return found


def test_without_a_room_it_says_what_is_installed_and_where(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["doctor"]) == 0

    out = capsys.readouterr().out
    assert "Python: 3." in out
    assert "extra shared" in out
    assert "cache" in out


def test_a_sound_room_with_a_sound_ledger_is_no_fault(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(["round", str(room)])
    capsys.readouterr()

    assert run(["doctor", str(room), "--json"]) == 0
    found = findings(capsys)
    assert [each for each in found if each["state"] == "fault"] == []
    assert any(each["about"] == "ledger" and "as it was written" in each["found"] for each in found)


def test_a_faulty_room_file_is_named_with_its_line(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = room.read_text("utf-8").splitlines()
    number = next(number for number, line in enumerate(lines) if line.startswith("volume"))
    lines[number] = 'volume = "thirty"'
    room.write_text("\n".join(lines), encoding="utf-8")

    assert run(["doctor", str(room), "--json"]) == 2
    assert any(f"room.toml:{number + 1}:" in each["found"] for each in findings(capsys) if each["state"] == "fault")


def test_a_changed_entry_of_the_ledger_is_found(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(["note", str(room), "a1", "moulted"])
    ledger = room.with_suffix(".ledger.db")
    with sqlite3.connect(ledger) as file:
        for (trigger,) in file.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            file.execute(f"DROP TRIGGER {trigger}")
        file.execute("UPDATE entries SET body = replace(body, 'moulted', 'died')")
    capsys.readouterr()

    assert run(["doctor", str(room), "--json"]) == 2
    assert any(each["about"] == "ledger" for each in findings(capsys) if each["state"] == "fault")


def test_a_faulty_file_of_keys_is_a_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    keys = tmp_path / "own.toml"
    keys.write_text("[keys]\nfinish = 3\n", encoding="utf-8")

    assert run(["doctor", "--keys", str(keys), "--json"]) == 2
    assert any(each["about"] == "keys and colours" for each in findings(capsys) if each["state"] == "fault")
