"""Where keys stand: checked against the standard library's parser, which is the judge of what a document holds."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings

from demo_racks import ROOMS, room_path
from schedules.room_file.diagnosis.positions import find_positions
from schedules.room_file.faults import KeyPath
from tests.room_file.documents import documents


def paths(value: Any, path: KeyPath = ()) -> Iterator[KeyPath]:
    """Every key and array index in parsed data."""
    items: Any = ()
    if isinstance(value, dict):
        items = value.items()
    elif isinstance(value, list):
        items = enumerate(value)
    for key, inside in items:
        yield (*path, key)
        yield from paths(inside, (*path, key))


def starts_with_key(text: str, offset: int, key: str) -> bool:
    """Whether a key, bare or quoted, stands at an offset; what is a key is for the parser to say."""
    line = text[offset : text.find("\n", offset) if "\n" in text[offset:] else len(text)]
    for end in range(1, len(line) + 1):
        try:
            if tomllib.loads(f"{line[:end]} = 1") == {key: 1}:
                return True
        except tomllib.TOMLDecodeError:
            continue
    return False


def check_every_path(text: str) -> None:
    positions = find_positions(text)
    data = tomllib.loads(text)
    for path in paths(data):
        assert path in positions.offsets
        if isinstance(path[-1], str):
            assert starts_with_key(text, positions.offsets[path], path[-1])
    assert set(positions.offsets) == set(paths(data))


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(documents())
def test_every_path_of_any_document_has_a_position_where_its_key_stands(text: str) -> None:
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        assume(False)
    check_every_path(text)


@pytest.mark.parametrize("room", ROOMS)
def test_every_path_of_the_invented_rooms_has_a_position(room: str) -> None:
    text = room_path(room).read_text()
    positions = find_positions(text)
    assert set(positions.offsets) == set(paths(tomllib.loads(text)))


def test_lines_are_counted_from_one_through_comments_and_texts_of_several_lines() -> None:
    text = '# first\na = """\n\n"""\n[[b]]\nc = [\n  1,\n  { d = 2 },\n]\n'
    positions = find_positions(text)
    lines = {path: positions.line(path) for path in positions.offsets}
    assert lines == {
        ("a",): 2,
        ("b",): 5,
        ("b", 0): 5,
        ("b", 0, "c"): 6,
        ("b", 0, "c", 0): 7,
        ("b", 0, "c", 1): 8,
        ("b", 0, "c", 1, "d"): 8,
    }


def test_what_has_no_position_of_its_own_stands_where_the_table_around_it_does() -> None:
    positions = find_positions("[[racks]]\n[[racks.tanks]]\nid = 1\n[[racks.tanks]]\n")
    assert positions.line(("racks", 0, "tanks", 1, "volume")) == 4
    assert positions.line(("racks", 0, "tanks", 0, "animals", 3, "count")) == 2
    assert positions.line(("feeds",)) == 1


@pytest.mark.parametrize(
    ("text", "last", "inside"),
    [
        ("a = 1\nb.c = [2,", ("b", "c"), ("b", "c")),
        ("a = 1\nb c = 2", ("a",), None),
        ("[t]\na = { b = 1", ("t", "a", "b"), ("t", "a")),
        ("[t]\na = { b = 1 } c", ("t", "a"), None),
        ("[t", (), None),
        ('a = "x', ("a",), ("a",)),
        ('a = """x', ("a",), ("a",)),
    ],
)
def test_the_last_key_is_known_where_a_text_stops_being_toml(text: str, last: KeyPath, inside: KeyPath | None) -> None:
    positions = find_positions(text)
    assert (positions.last, positions.inside) == (last, inside)


def test_deep_nesting_that_the_parser_takes_is_followed_without_recursion() -> None:
    text = f"a = {'[' * 150}{']' * 150}"
    assert set(find_positions(text).offsets) == {path for path in paths(tomllib.loads(text)) if len(path) <= 32}
