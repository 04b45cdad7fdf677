"""What is at a path, and in which encoding: everything that can be wrong before there is any TOML."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from schedules.room_file import RoomFileFaults, load_room
from schedules.room_file.text import LARGEST
from tests.room_file.rooms import FIRST_ROOM


def said_of(path: Path) -> str:
    """What is said of the one fault of a file, after the file's name."""
    with pytest.raises(RoomFileFaults) as caught:
        load_room(path)
    (line,) = caught.value.lines()
    assert line.startswith(f"{path}:")
    return line.removeprefix(f"{path}:")


@pytest.fixture
def written(tmp_path: Path) -> Callable[[bytes], Path]:
    """Writes bytes to a room file and gives its path."""

    def write(content: bytes) -> Path:
        path = tmp_path / "room.toml"
        path.write_bytes(content)
        return path

    return write


def test_a_sound_file_is_read_and_left_as_it_is(written: Callable[[bytes], Path]) -> None:
    path = written(FIRST_ROOM.encode())
    before = path.stat()
    assert load_room(path).name == "Back room"
    assert path.read_bytes() == FIRST_ROOM.encode()
    assert path.stat().st_mtime_ns == before.st_mtime_ns
    assert os.listdir(path.parent) == ["room.toml"]  # noqa: PTH208 - every name, hidden ones too


def test_a_byte_order_mark_and_windows_line_ends_are_no_fault(written: Callable[[bytes], Path]) -> None:
    path = written(b"\xef\xbb\xbf" + FIRST_ROOM.replace("\n", "\r\n").encode())
    assert load_room(path).name == "Back room"


def test_a_directory_is_refused_with_the_room_file_in_it(tmp_path: Path) -> None:
    assert said_of(tmp_path) == "1: file: found a directory, allowed is a file of TOML text"
    (tmp_path / "back.toml").touch()
    assert said_of(tmp_path) == "1: file: found a directory, allowed is a file of TOML text; in it there is back.toml"


def test_a_file_that_is_not_there_is_refused_with_the_one_that_may_be_meant(tmp_path: Path) -> None:
    assert said_of(tmp_path / "bakc.toml") == "1: file: found no file of this name, allowed is a file that exists"
    (tmp_path / "back.toml").touch()
    assert said_of(tmp_path / "bakc.toml") == (
        '1: file: found no file of this name, allowed is a file that exists; did you mean "back.toml"?'
    )


def test_a_file_in_a_directory_that_is_not_there_is_refused(tmp_path: Path) -> None:
    assert said_of(tmp_path / "no" / "room.toml") == (
        "1: file: found no file of this name, allowed is a file that exists"
    )


def test_a_file_below_a_file_is_refused(written: Callable[[bytes], Path]) -> None:
    path = written(b"") / "room.toml"
    assert said_of(path) == "1: file: found a file that cannot be read (Not a directory), allowed is a readable file"


def test_a_name_that_no_file_can_have_is_refused(tmp_path: Path) -> None:
    reason = "(not a possible file name)"
    assert (
        said_of(tmp_path / "a\0b") == f"1: file: found a file that cannot be read {reason}, allowed is a readable file"
    )


def test_a_file_without_permission_is_refused(
    written: Callable[[bytes], Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = written(FIRST_ROOM.encode())

    def refuse(*_: Any, **__: Any) -> Any:  # a root user may read everything, whatever the file's mode
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    assert said_of(path) == ("1: file: found a file that may not be read, allowed is one with permission to read it")


def test_a_pipe_is_refused_without_waiting_for_it(tmp_path: Path) -> None:
    path = tmp_path / "pipe"
    os.mkfifo(path)
    assert said_of(path) == "1: file: found a device or pipe, allowed is an ordinary file of TOML text"


def test_a_file_far_too_large_is_refused(written: Callable[[bytes], Path]) -> None:
    path = written(b"#" * (LARGEST + 1))
    assert said_of(path) == "1: file: found more than 2048 KiB, allowed is at most that much text"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (
            'name = "a"\nplace = "Küche"\n'.encode("latin-1"),
            '2: encoding: found the byte 0xFC, which is no UTF-8 (perhaps "ü" in Windows-1252 or Latin-1), '
            "allowed is UTF-8 text; save the file as UTF-8",
        ),
        (
            b'name = "a"\n\n\xe2\x82',
            '3: encoding: found the byte 0xE2, which is no UTF-8 (perhaps "â" in Windows-1252 or Latin-1), '
            "allowed is UTF-8 text; save the file as UTF-8",
        ),
        (
            b"\x81",
            "1: encoding: found the byte 0x81, which is no UTF-8, allowed is UTF-8 text; save the file as UTF-8",
        ),
        (
            FIRST_ROOM.encode("utf-16"),
            "1: encoding: found UTF-16 text, allowed is UTF-8; save the file as UTF-8",
        ),
        (
            FIRST_ROOM.encode("utf-16-be"),
            "1: encoding: found a zero byte, allowed is UTF-8 text; save the file as UTF-8",
        ),
        (
            b'name = "a"\nid = "\x00"\n',
            "2: encoding: found a zero byte, allowed is UTF-8 text; save the file as UTF-8",
        ),
        (b"", "1: file: found an empty file, allowed is a room in TOML; `rackround new` writes one to start from"),
        (
            b"\xef\xbb\xbf",
            "1: file: found an empty file, allowed is a room in TOML; `rackround new` writes one to start from",
        ),
    ],
)
def test_bytes_that_are_no_text_are_refused_with_the_line_they_are_on(
    written: Callable[[bytes], Path], content: bytes, said: str
) -> None:
    assert said_of(written(content)) == said


def test_a_file_that_goes_away_while_it_is_read_is_refused(
    written: Callable[[bytes], Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = written(FIRST_ROOM.encode())

    def vanish(*_: Any, **__: Any) -> Any:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(Path, "open", vanish)
    assert said_of(path) == (
        "1: file: found a file that cannot be read (Input/output error), allowed is a readable file"
    )
