"""The first room file: written by a few answers or by none, and sound as it stands."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from schedules.room_file import load_room
from tui.cli.main import run
from tui.cli.new import local_zone


@pytest.fixture(name="answer")
def _answer(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """What is typed, line by line; after the last line the input has ended."""
    typed: list[str] = []

    def read(_question: str) -> str:
        if not typed:
            raise EOFError
        return typed.pop(0)

    monkeypatch.setattr("builtins.input", read)
    yield typed


def test_without_asking_it_is_sound_and_opens(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "room.toml"

    assert run(["new", str(path), "--yes"]) == 0
    assert run(["check", str(path)]) == 0
    assert run(["round", str(path), "--now", "2026-11-25T07:30"]) == 0
    assert "rackround check" in capsys.readouterr().out


def test_the_answers_stand_in_the_file(tmp_path: Path, answer: list[str]) -> None:
    path = tmp_path / "room.toml"
    answer += ['The "deep" [end] 🦐', "Europe/Lisbon", "us", "Zoë", "2", "3", "10", "yes"]

    assert run(["new", str(path)]) == 0

    room = load_room(path)
    assert room.name == 'The "deep" [end] 🦐'
    assert (room.zone.key, room.units.us, room.keepers[0].name) == ("Europe/Lisbon", True, "Zoë")
    assert len(room.racks) == 2 and len(room.tanks) == 6
    assert all(feed.known for feed in room.feeds.values())
    assert next(iter(room.tanks.values())).litres == pytest.approx(37.854, abs=0.01)  # 10 US gallons of 3.785412 L


def test_an_answer_that_cannot_be_used_is_asked_again(
    tmp_path: Path, answer: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "room.toml"
    answer += ["", "Europe/Vena", "Europe/Vienna", "", "", "many", "0", "1", "", "", ""]

    assert run(["new", str(path)]) == 0
    assert load_room(path).zone.key == "Europe/Vienna"
    assert "Europe/Vena" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("question", "typed", "allowed"),
    [
        (2, "litres", "metric or us"),
        (4, "one", "a whole number"),
        (5, "four", "a whole number"),
        (6, "big", "a number"),
        (7, "maybe", "yes or no"),
    ],
)
def test_an_answer_that_is_no_answer_is_shown_with_what_is_allowed(
    tmp_path: Path, answer: list[str], capsys: pytest.CaptureFixture[str], question: int, typed: str, allowed: str
) -> None:
    answer += [*[""] * question, typed, *[""] * 8]

    assert run(["new", str(tmp_path / "room.toml")]) == 0

    said = capsys.readouterr().out
    assert f'"{typed}"' in said and allowed in said and "found -1" not in said


def test_the_folder_is_checked_before_anything_is_asked(tmp_path: Path, answer: list[str]) -> None:
    answer += ["My room"]

    assert run(["new", str(tmp_path / "nowhere" / "room.toml")]) == 2
    assert answer == ["My room"]


def test_a_tank_without_a_name_of_its_own_is_named_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "room.toml"
    run(["new", str(path), "--yes"])
    for words in (["round"], ["plan"], ["lives"]):
        assert run([*words, str(path), "--now", "2026-11-25T07:30"]) == 0

    said = capsys.readouterr().out
    assert "1-1" in said and "1-1 1-1" not in said and ", )" not in said


def test_a_file_that_exists_is_left_as_it_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "room.toml"
    path.write_text("mine")

    assert run(["new", str(path), "--yes"]) == 2
    assert path.read_text() == "mine" and "exists already" in capsys.readouterr().err


def test_input_that_ends_leaves_no_file(tmp_path: Path, answer: list[str]) -> None:
    answer += ["Half a room"]

    assert run(["new", str(tmp_path / "room.toml")]) == 2
    assert not (tmp_path / "room.toml").exists()


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["new", str(tmp_path / "nowhere" / "room.toml"), "--yes"]) == 2
    assert "cannot be written" in capsys.readouterr().err


@pytest.mark.parametrize(("named", "zone"), [("Europe/Berlin", "Europe/Berlin"), ("nonsense/zone", "Etc/UTC")])
def test_the_machines_own_zone_is_the_usual_answer(monkeypatch: pytest.MonkeyPatch, named: str, zone: str) -> None:
    monkeypatch.setenv("TZ", named)

    assert local_zone() == zone
