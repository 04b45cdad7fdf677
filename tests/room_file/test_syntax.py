"""Text that is no TOML: said in the keeper's words, with line and key."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.room_file.rooms import faults_of, room_text

HEAD = """\
name = "Back room"
time_zone = "Europe/Vienna"
[[racks]]
id = "left"
[[racks.tanks]]
id = "moss"
"""


def pieces() -> Iterator[tuple[str, list[str]]]:
    """Each piece of `syntax.txt` and what is said of it, keys without the tank they are in."""
    for block in Path(__file__).with_name("syntax.txt").read_text(encoding="utf-8").split("\n\n")[1:]:
        lines = block.strip("\n").split("\n")
        said = [line.removeprefix("--> ") for line in lines if line.startswith("--> ")]
        yield "".join(f"{line}\n" for line in lines[: -len(said)]), said


@pytest.mark.parametrize(("piece", "said"), list(pieces()))
def test_what_is_no_toml_is_named_for_what_it_is(piece: str, said: list[str]) -> None:
    found = faults_of(HEAD + piece)
    assert [fault.replace(": racks[1].tanks[1].", ": ") for fault in found] == said


def test_reading_goes_on_after_a_line_that_is_no_toml() -> None:
    text = room_text(tank="volume = 54 L\nsurface = still\nrest = 'sonday'\ngrazing = \"rich\"\n[[racks]]\nid = left\n")
    assert faults_of(text) == [
        "13: racks[1].tanks[1].volume: found 54 L, allowed is a number alone, without its unit",
        '14: racks[1].tanks[1].surface: found still, allowed is a text in quotes: "…"',
        '15: racks[left].tanks[moss].rest: found "sonday", allowed is "monday", "tuesday", "wednesday", "thursday", '
        '"friday", "saturday" or "sunday"; did you mean "sunday"?',
        '18: racks[2].id: found left, allowed is a text in quotes: "…"',
    ]


def test_what_stood_on_a_line_that_is_no_toml_is_not_called_missing() -> None:
    assert faults_of(room_text(tank="volume = 54 L\n")) == [
        "13: racks[1].tanks[1].volume: found 54 L, allowed is a number alone, without its unit"
    ]


def test_a_header_given_twice_names_the_line_of_the_first() -> None:
    assert faults_of("[clocks.fine]\nmin_gap = 2\n[clocks.fine]\nmin_gap = 3\n") == [
        "3: clocks.fine: found again (first on line 1), allowed is once"
    ]


def test_a_control_character_is_shown_as_a_code() -> None:
    assert faults_of(HEAD + "\x01\n") == [
        "7: syntax: found \\u0001, allowed is a key with its value, as in volume = 54"
    ]


def test_a_number_without_end_is_refused_on_its_line() -> None:
    assert faults_of(f"{HEAD}volume = {'9' * 5000}\n") == [
        "7: racks[1].tanks[1].volume: found what is no TOML (a number with too many digits), allowed is TOML 1.0"
    ]


def test_brackets_without_end_are_refused() -> None:
    assert faults_of(f"{HEAD}feeds = {'[' * 5000}\n") == [
        "1: syntax: found brackets nested too deeply, allowed is a few levels of them"
    ]


@pytest.mark.parametrize("text", ["", "\n\n", " \t\r\n"])
def test_an_empty_text_is_refused(text: str) -> None:
    assert faults_of(text) == [
        "1: file: found an empty file, allowed is a room in TOML; `rackround new` writes one to start from"
    ]
