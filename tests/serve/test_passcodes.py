"""Passcodes are kept as Argon2id hashes (RFC 9106) in a file for its owner only, and never anywhere else."""

from __future__ import annotations

import json
import stat
from io import StringIO
from pathlib import Path

import pytest

from tests.tui.rooms import room_text
from tui.cli.main import run
from tui.serve.passcodes import PasscodesFault, hashed, is_passcode, passcodes_path, read_passcodes, write_passcodes


@pytest.fixture
def room(tmp_path: Path) -> Path:
    path = tmp_path / "room.toml"
    path.write_text(room_text(), encoding="utf-8")
    return path


def set_passcode(room: Path, keeper: str, code: str, monkeypatch: pytest.MonkeyPatch, *more: str) -> int:
    monkeypatch.setattr("sys.stdin", StringIO(code + "\n"))
    return run(["passcode", str(room), keeper, *more])


def test_a_passcode_is_its_keepers_alone(room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert set_passcode(room, "Mara", "482913", monkeypatch) == 0
    hashes = read_passcodes(passcodes_path(room))

    assert is_passcode(hashes, "Mara", "482913")
    assert not is_passcode(hashes, "Mara", "482914")
    assert not is_passcode(hashes, "Ben", "482913")
    assert not is_passcode(hashes, "", "")


def test_only_a_salted_argon2id_hash_is_kept_for_the_owner_only(room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    set_passcode(room, "Mara", "482913", monkeypatch)
    set_passcode(room, "Ben", "482913", monkeypatch)
    path = passcodes_path(room)
    kept = json.loads(path.read_text("utf-8"))["keepers"]

    assert "482913" not in path.read_text("utf-8")
    assert all(each.startswith("$argon2id$v=19$") for each in kept.values())
    assert kept["Mara"] != kept["Ben"]
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


@pytest.mark.parametrize("code", ["12345", "111111", "123456", "654321", "x" * 129])
def test_a_passcode_too_short_too_long_or_too_simple_is_refused(
    code: str, room: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert set_passcode(room, "Mara", code, monkeypatch) == 2
    assert code not in capsys.readouterr().err
    assert not passcodes_path(room).exists()


def test_a_keeper_whom_the_room_file_does_not_name_gets_none(
    room: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert set_passcode(room, "Marra", "482913", monkeypatch) == 2
    assert 'did you mean "Mara"?' in capsys.readouterr().err


def test_a_passcode_is_taken_away(room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    set_passcode(room, "Mara", "482913", monkeypatch)
    assert run(["passcode", str(room), "Mara", "--remove"]) == 0
    assert read_passcodes(passcodes_path(room)) == {}
    assert run(["passcode", str(room), "Mara", "--remove"]) == 2


def test_a_file_that_others_can_read_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "room.passcodes.json"
    write_passcodes(path, {"Mara": hashed("482913")})
    path.chmod(0o644)

    with pytest.raises(PasscodesFault, match="chmod 600"):
        read_passcodes(path)


@pytest.mark.parametrize("text", ["", "[]", '{"keepers": {}}', '{"format": "rackround-passcodes/1", "keepers": []}'])
def test_a_file_of_another_form_is_named(text: str, tmp_path: Path) -> None:
    path = tmp_path / "room.passcodes.json"
    path.write_text(text, encoding="utf-8")
    path.chmod(0o600)

    with pytest.raises(PasscodesFault, match=r"room\.passcodes\.json"):
        read_passcodes(path)


def test_a_damaged_hash_is_nobodys_passcode() -> None:
    assert not is_passcode({"Mara": "$argon2id$nonsense"}, "Mara", "482913")


def test_the_network_is_not_served_without_a_passcode(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["serve", str(room), "--host", "0.0.0.0", "--port", "0"]) == 2
    assert "no keeper has a passcode" in capsys.readouterr().err
