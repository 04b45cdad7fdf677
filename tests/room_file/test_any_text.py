"""Whatever a file holds, it is a room or it is refused line by line: never a traceback."""

from __future__ import annotations

import re
import string
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from demo_racks import ROOMS, room_path
from schedules.room import Room
from schedules.room_file import RoomFileFaults, load_room, load_room_text
from tests.room_file.documents import documents
from tests.room_file.rooms import FIRST_ROOM

FAULT = re.compile(r"room\.toml:[1-9]\d*: \S.*: found .+, allowed (?:is|are) .+")


def read(text: str) -> Room | None:
    """A text as a room, or None after looking at what is said of it."""
    try:
        return load_room_text(text, "room.toml")
    except RoomFileFaults as faults:
        assert faults.faults
        for line in faults.lines():
            assert FAULT.fullmatch(line)
            assert line.isprintable()
        numbers = [fault.line or 1 for fault in faults.faults]
        assert numbers == sorted(numbers)
        assert numbers[-1] <= text.count("\n") + 1
        return None


@given(st.text())
def test_any_text_is_read_or_refused(text: str) -> None:
    read(text)


@given(st.lists(st.sampled_from(re.findall(r"\w+|\W", FIRST_ROOM)), max_size=40).map("".join))
def test_any_words_of_a_room_file_are_read_or_refused(text: str) -> None:
    read(text)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(documents())
def test_any_toml_is_read_or_refused(text: str) -> None:
    read(text)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary())
def test_any_bytes_are_read_or_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "room.toml"
    path.write_bytes(content)
    try:
        load_room(path)
    except RoomFileFaults as faults:
        assert all(line.startswith(f"{path}:") for line in faults.lines())


@cache
def lines_of(room: str) -> list[str]:
    return room_path(room).read_text(encoding="utf-8").splitlines(keepends=True)


LETTERS = st.sampled_from([*string.printable, "ü", "\x00", "“", "🦐", "\u202e"])
VALUES = st.sampled_from(
    ["nan", "-inf", "0", "-1", "1e300", "true", '""', "[]", "{}", "[[1]]", "2026-02-29", "07:00:00", "9" * 30, "'x'"]
)


@settings(max_examples=120, deadline=None)
@given(st.sampled_from(ROOMS[:2]), st.data())
def test_an_invented_room_with_anything_changed_is_read_or_refused(room: str, data: st.DataObject) -> None:
    lines = list(lines_of(room))
    for _ in range(data.draw(st.integers(1, 4))):
        number = data.draw(st.integers(0, len(lines) - 1))
        line = lines[number]
        match data.draw(st.sampled_from(["letter", "value", "drop", "double", "move", "cut"])):
            case "letter":
                place = data.draw(st.integers(0, len(line)))
                lines[number] = line[:place] + data.draw(LETTERS) + line[place + data.draw(st.integers(0, 1)) :]
            case "value":
                lines[number] = re.sub(r"= .*", lambda _: f"= {data.draw(VALUES)}", line)
            case "drop":
                lines[number] = ""
            case "double":
                lines[number] = line * 2
            case "move":
                lines.insert(data.draw(st.integers(0, len(lines) - 1)), line)
            case _:
                lines[number] = line[: data.draw(st.integers(0, len(line)))]
    read("".join(lines))


KEYS = re.compile(r"(?m)^(?P<key>\w+) = (?P<value>[^#\n]*[^#\n ])")


@pytest.mark.parametrize("room", ROOMS[:2])
def test_no_key_of_an_invented_room_holds_just_anything(room: str) -> None:
    """Each key given a table that no key may hold is refused on its own line, by its own name."""
    text = room_path(room).read_text(encoding="utf-8")
    seen: set[str] = set()
    for found in KEYS.finditer(text):
        if found["key"] in seen or found["value"] == "[":
            continue
        seen.add(found["key"])
        changed = text[: found.start("value")] + "{ nonsense = 1 }" + text[found.end("value") :]
        line = text.count("\n", 0, found.start()) + 1
        with pytest.raises(RoomFileFaults) as caught:
            load_room_text(changed, "room.toml")
        told = [fault for fault in caught.value.faults if fault.line == line]
        assert told
        assert all(found["key"] in fault.key for fault in told)
