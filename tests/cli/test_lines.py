"""`rackround lines`: what each line did in a year."""

from __future__ import annotations

from pathlib import Path

from tests.cli.conftest import Rackround


def with_line(room: Path) -> None:
    """The second tank as one of a line."""
    head, tail = room.read_text("utf-8").rsplit("volume = 60\n", 1)
    room.write_text(f'{head}volume = 60\nline = "dark"\ngeneration = 4\n{tail}', "utf-8")


def test_a_room_without_lines_says_how_to_begin_one(rackround: Rackround) -> None:
    answer = rackround("lines")
    assert (answer.code, answer.out.startswith("no tank has a line; ")) == (0, True)


def test_a_year_is_printed_and_follows_undo(rackround: Rackround, room: Path) -> None:
    with_line(room)
    rackround("saw", "a2", "hatch", "--about", "30")
    rackround("saw", "a2", "culled", "--heads", "2", "--grade", "B")
    rackround("saw", "a2", "moved", "--heads", "3", "--grade", "A", "--to", "a1", "--line", "darker")
    text = rackround("lines").out

    assert "dark: a2 (generation 4)\n  1 hatch, about 30 (18 to 54) young\n" in text
    assert "  grade A: 3 kept, 0 culled, 0 sold\n  grade B: 0 kept, 2 culled, 0 sold\n" in text
    assert "3 adults from a2 (line dark, generation 4) to a1, grade A, now line darker\n" in text
    assert "dark: a2" not in rackround("lines", "--line", "darker").out
    rackround("undo")
    rackround("undo")
    assert "grade" not in rackround("lines").out


def test_as_json_with_ranges_and_parents(rackround: Rackround, room: Path) -> None:
    with_line(room)
    rackround("saw", "a2", "moved", "--about", "10", "--to", "a1")
    data = rackround("lines", "--json").data

    (dark,) = data["lines"]
    assert (data["format"], data["year"], dark["tanks"]) == (
        "rackround-lines/1",
        2026,
        [{"tank": "a2", "generation": 4}],
    )
    (move,) = dark["moves"]
    assert (move["from"], move["to"], move["from_line"], move["line"]) == ("a2", "a1", "dark", "dark")
    assert (move["heads"], move["exact"], move["least"], move["most"]) == (10, False, 6, 17)


def test_another_year_and_an_unknown_line(rackround: Rackround, room: Path) -> None:
    with_line(room)
    rackround("saw", "a2", "dead", "--heads", "2")

    assert "nothing written down" in rackround("lines", "--year", "2025").out
    refused = rackround("lines", "--line", "drak")
    assert (refused.code, '--line: found "drak", allowed is "dark"' in refused.err) == (2, True)


def test_survival_by_line_knows_the_line_of_a_tank_and_one_that_was_moved_in(rackround: Rackround, room: Path) -> None:
    with_line(room)
    rackround("saw", "a2", "hatch", "--heads", "9", now="2026-10-01T07:30")
    rackround("saw", "a1", "hatch", "--heads", "8", now="2026-10-02T07:30")
    rackround("saw", "a2", "moved", "--heads", "2", "--to", "a1", now="2026-10-03T07:30")
    rackround("saw", "a1", "hatch", "--heads", "7", now="2026-11-20T07:30")
    rackround("saw", "a1", "hatch", "--heads", "6", "--line", "light", now="2026-11-21T07:30")
    data = rackround("survival", "--by", "line", "--json").data

    assert [(each["born"]["heads"], each["line"]) for each in data["cohorts"]] == [
        (9, "dark"),
        (8, None),
        (7, "dark"),
        (6, "light"),
    ]
