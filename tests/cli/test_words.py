"""The words of the command line: options anywhere, suggestions, help, dates far away, and what printing survives."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from schedules.ledger import Noted, Served
from schedules.ledger.stores.sqlite import open_ledger
from tests.cli.conftest import MORNING, ROOM, Rackround
from tui.cli.main import run
from tui.cli.out import visible

STEERING = "\x1b]0;title\x07\x9b2J\u202eabc\u2066\u200f"


def program(*words: str, env: dict[str, str] | None = None, **streams: int) -> subprocess.CompletedProcess[bytes]:
    """The program as another process runs it; its standard output where `streams` say."""
    taken = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | streams
    command = [sys.executable, "-m", "tui", *words]
    return subprocess.run(command, env=os.environ | (env or {}), check=False, **taken)  # type: ignore[call-overload, no-any-return]


def test_options_of_every_command_stand_before_it_or_after_it(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given = ["--now", MORNING, "--by", "Ole", "--json"]
    answers = []
    for words in ([*given, "flags", str(room)], ["flags", str(room), *given], ["flags", *given, str(room)]):
        assert run(words) == 0
        answers.append(capsys.readouterr().out)

    assert len(set(answers)) == 1
    assert json.loads(answers[0])["format"] == "rackround-flags/1"


@pytest.mark.parametrize("before", [True, False])
def test_who_acts_and_when_may_be_said_first(room: Path, capsys: pytest.CaptureFixture[str], before: bool) -> None:
    who, act = ["--by", "Ole", "--now", MORNING], ["note", str(room), "a1", "hatched"]
    assert run([*who, *act] if before else [*act, *who]) == 0
    assert run(["undo", str(room), "--now", MORNING]) == 2
    assert run(["undo", str(room), "--now", MORNING, "--by", "Ole"]) == 0
    assert "taken back: note about a1: hatched" in capsys.readouterr().out


def test_a_mistyped_command_is_answered_with_the_nearest_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rond", "room.toml"]) == 2
    assert 'there is no command and no room file "rond"; did you mean "round"?' in capsys.readouterr().err


def test_help_is_for_the_program_or_for_one_command(capsys: pytest.CaptureFixture[str]) -> None:
    for words, expected in ((["help"], "COMMAND"), (["help", "give"], "--anyway"), (["give", "--help"], "--anyway")):
        assert run(words) == 0
        assert expected in capsys.readouterr().out


def test_the_version_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["--version"]) == 0
    assert capsys.readouterr().out.startswith("rackround ")


def test_json_is_only_promised_where_it_is_printed(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(room), "--json"]) == 2
    assert "check prints no JSON" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["round", "missed", "flags", "prepare", "lookback"])
def test_every_json_document_names_its_format(rackround: Rackround, name: str) -> None:
    document = rackround(name, "--json").data

    assert next(iter(document.items())) == ("format", f"rackround-{name}/1")


def test_a_decimal_comma_is_a_decimal_point(rackround: Rackround) -> None:
    answer = rackround("give", "a1", "dust", "--amount", "0,5", "--anyway")

    assert answer.code == 0 and "½" in answer.out


@pytest.mark.parametrize("now", ["0001-01-01T00:00", "9999-12-31", "9999-12-31T23:59"])
@pytest.mark.parametrize("command", ["round", "flags", "undo"])
def test_a_moment_at_the_end_of_the_calendar_is_a_fault(rackround: Rackround, command: str, now: str) -> None:
    answer = rackround(command, now=now)

    assert answer.code == 2 and "too far away" in answer.err and "Traceback" not in answer.err


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
def test_so_is_a_day(rackround: Rackround, day: str) -> None:
    answer = rackround("give", "a1", "dust", "--on", day)

    assert answer.code == 2 and "too far away" in answer.err


def test_a_serving_of_months_ago_is_held_against_what_was_given_then(rackround: Rackround) -> None:
    assert rackround("give", "a1", "flake", "--on", "2026-06-10").code == 0

    assert "already given by Mara" in rackround("give", "a1", "flake", "--on", "2026-06-10").err
    refused = rackround("give", "a1", "flake", "--on", "2026-06-11")
    assert refused.code == 3 and "given yesterday" in refused.err
    assert rackround("give", "a1", "flake", "--on", "2026-05-01").code == 0


def test_skipping_a_feed_that_is_not_due_skips_nothing(rackround: Rackround) -> None:
    rackround("give", "a1", "flake", "--anyway", now="2026-11-24T07:30")
    before = rackround("round", "--json").data["stops"]
    due = {each["feed"] for stop in before if stop["tank"] == "a1" for each in stop["servings"]}
    (other,) = {"dust", "flake"} - due

    answer = rackround("skip", "a1", other, "--because", "cloudy")

    assert answer.code == 2 and "is not due today" in answer.err
    assert rackround("round", "--json").data["stops"] == before


def test_characters_that_steer_a_terminal_are_shown_by_their_code() -> None:
    assert visible(STEERING) == r"\x1b]0;title\x07\x9b2J\u202eabc\u2066\u200f"
    assert visible("Upper [left] one, ½ spoon, 蝦") == "Upper [left] one, ½ spoon, 蝦"


def test_text_of_a_room_file_cannot_steer_the_terminal(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = "abc\u202edef\u2066\u200f"
    room.write_text(ROOM.replace("Upper [left] one", name), encoding="utf-8")

    assert run(["check", str(room)]) == 2
    assert not {"\u202e", "\u2066", "\u200f"} & set(capsys.readouterr().err)


def test_text_of_the_ledger_cannot_steer_the_terminal(rackround: Rackround, room: Path) -> None:
    rackround("note", "a1", "calm")
    ledger = open_ledger(room.with_suffix(".ledger.db"))
    at = datetime.fromisoformat(MORNING).replace(tzinfo=UTC)
    twice = Served("a1", "flake", "morning", 1, "pellet", 12, 0.1, planned=False, broke="again")
    for what, by in ((Noted("a1", STEERING), "Mara"), (twice, STEERING), (twice, STEERING)):
        ledger.append([what], day=at.date(), at=at, by=by)
    ledger.close()

    assert rackround("undo").out == f"taken back: note about a1: {visible(STEERING)}\n"
    assert visible(STEERING) in rackround("flags").out
    document = rackround("flags", "--json")
    assert not {each for each in document.out if each in STEERING and not each.isprintable()}
    assert STEERING in str(document.data["flags"][0]["evidence"])


def test_a_word_that_is_no_command_cannot_steer_the_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    assert run([f"x{STEERING}"]) == 2
    assert "\x1b" not in capsys.readouterr().err


def test_an_encoding_that_lacks_a_character_shows_its_code(room: Path) -> None:
    ascii_only = {"PYTHONIOENCODING": "ascii"}
    answer = program("give", str(room), "a1", "dust", "--amount", "0.5", "--anyway", "--now", MORNING, env=ascii_only)

    assert answer.returncode == 0 and rb"\xbd" in answer.stdout


def test_a_mark_is_recorded_and_said_to_be_though_standard_output_is_full(room: Path) -> None:
    with Path("/dev/full").open("w") as full:
        given = program("give", str(room), "a1", "dust", "--anyway", "--now", MORNING, stdout=full.fileno())
        refused = program("give", str(room), "a1", "dust", "--now", MORNING, stdout=full.fileno())
        printed = program("flags", str(room), "--now", MORNING, stdout=full.fileno())

    assert given.returncode == 0 and b"it is recorded, but standard output cannot be written" in given.stderr
    assert refused.returncode == 3
    assert printed.returncode == 2 and b"Traceback" not in printed.stderr


def test_a_mark_is_recorded_though_standard_output_is_closed(room: Path) -> None:
    words = f"{sys.executable} -m tui note {room} a1 hatched --now {MORNING} >&-"
    note = subprocess.run(["sh", "-c", words], capture_output=True, check=False)
    flags = subprocess.run(["sh", "-c", words.replace(f"note {room} a1 hatched", f"flags {room}")], check=False)

    assert note.returncode == 0 and b"it is recorded, but standard output is closed" in note.stderr
    assert flags.returncode == 2
    assert program("undo", str(room), "--now", MORNING).returncode == 0
