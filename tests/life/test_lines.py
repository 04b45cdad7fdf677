"""What a line did in a year: examples by hand, and what holds whatever was seen."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import chain
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.ledger import Entry, Sighting, Undone
from schedules.ledger.stores.memory import MemoryLedger
from schedules.review.lines import LineYear, Tally, lines_in, lines_of_tanks
from schedules.room import Room
from schedules.room.heads import Heads
from schedules.wording.animals.lines import tally_text, year_texts
from tests.life.rooms import DAY, entries, pasts, room_of, sighting

YEAR = DAY.year
AT = datetime(2026, 11, 1, 8, tzinfo=UTC)
EMPTY = room_of()


def with_lines(**lines: tuple[str, int | None]) -> Room:
    """The room of three tanks, some of them of a line and generation."""
    tanks = {
        tank.id: replace(tank, line=lines[tank.id][0], generation=lines[tank.id][1]) if tank.id in lines else tank
        for tank in EMPTY.tanks.values()
    }
    return replace(EMPTY, tanks=tanks)


def year_of(room: Room, *seen: tuple[int, Sighting], year: int = YEAR) -> dict[str | None, LineYear]:
    return {each.line: each for each in lines_in(entries(*seen), room, year)}


def test_a_year_of_a_line_by_hand() -> None:
    room = with_lines(a1=("dark", 3))
    dark = year_of(
        room,
        (0, sighting("hatch", 30, exact=False)),
        (2, sighting("hatch", 12)),
        (20, sighting("culled", 5, grade="B")),
        (21, sighting("sold", 4, grade="A")),
        (22, sighting("moved", 6, grade="A", to="c3")),
        (23, sighting("culled", 2, grade="B")),
        (24, sighting("dead", 1)),
        (25, sighting("count", 50)),
    )["dark"]

    assert list(year_texts(dark)) == [
        "2 hatches, about 42 (30 to 66) young",  # the class 30 is 18 to 54, and 12 were counted
        "grade A: 6 kept, 0 culled, 4 sold",
        "grade B: 0 kept, 7 culled, 0 sold",
        "1 found dead",
        "Mon 23 Nov: 6 adults from a1 (line dark, generation 3) to c3, grade A",
    ]


def test_a_line_follows_a_move_into_a_tank_without_one() -> None:
    found = year_of(
        with_lines(a1=("dark", None)), (0, sighting("moved", 6, to="b2")), (30, sighting("hatch", tank="b2"))
    )

    assert (found["dark"].hatches, None in found) == (1, False)


def test_a_keeper_who_names_another_line_begins_it_with_its_parents_known() -> None:
    found = year_of(
        with_lines(a1=("dark", 3)),
        (0, sighting("moved", 6, to="b2", line="darker", grade="A")),
        (30, sighting("hatch", tank="b2")),
    )

    assert (found["darker"].hatches, found["dark"].hatches) == (1, 0)
    (move,) = found["darker"].moves
    assert (move.parent, move.line, move.tank, move.generation) == ("dark", "darker", "a1", 3)
    assert found["dark"].moves == [move]
    assert (found["dark"].grades["A"].kept, found["darker"].grades) == (Tally(6, 6, 6), {})


def test_the_line_of_a_tank_in_the_room_file_stays_whatever_moves_in() -> None:
    room = with_lines(a1=("dark", None), b2=("light", None))
    found = year_of(room, (0, sighting("moved", 6, to="b2")), (30, sighting("hatch", tank="b2")))

    assert (found["light"].hatches, found["dark"].hatches) == (1, 0)


def test_other_years_count_nothing_but_say_which_line_is_where() -> None:
    seen = (0, sighting("hatch", 9, line="dark")), (100, sighting("dead", 2))
    this, next_ = year_of(EMPTY, *seen), year_of(EMPTY, *seen, year=YEAR + 1)

    assert (this["dark"].young, this["dark"].dead) == (Tally(9, 9, 9), Tally())
    assert (next_["dark"].young, next_["dark"].dead) == (Tally(), Tally(2, 2, 2))


def test_a_line_of_which_nothing_was_written_down_says_so() -> None:
    assert list(year_texts(year_of(with_lines(a1=("dark", 1)))["dark"])) == ["nothing written down"]


def test_what_belongs_to_no_line_comes_last() -> None:
    found = lines_in(entries((0, sighting("dead", 2)), (1, sighting("hatch", 3, line="z"))), EMPTY, YEAR)
    assert [each.line for each in found] == ["z", None]


@pytest.mark.parametrize(
    ("heads", "text"),
    [
        ([Heads(3), Heads(4)], "7"),
        ([Heads(30, False)], "about 30 (18 to 54)"),
        ([Heads(30, False), Heads(2)], "about 32 (20 to 56)"),
    ],
)
def test_a_sum_is_as_exact_as_what_was_seen(heads: list[Heads], text: str) -> None:
    tally = Tally()
    for each in heads:
        tally = tally.plus(each)
    assert tally_text(tally) == text


def plain_recount(past: tuple[Entry, ...]) -> Counter[str]:
    """Heads of a year by what was seen, whatever their line; graded moves are kept ones."""
    heads: Counter[str] = Counter()
    for entry in past:
        what = entry.what
        if isinstance(what, Sighting) and entry.day.year == YEAR:
            saw = "kept" if what.saw == "moved" and what.grade is not None else what.saw
            heads[saw] += what.heads
    return heads


@st.composite
def graded_pasts(draw: st.DrawFn) -> tuple[Entry, ...]:
    """Pasts in which some animals have a grade."""
    grades = st.sampled_from((None, "A", "B"))
    return tuple(
        replace(entry, what=replace(entry.what, grade=draw(grades)))
        for entry in draw(pasts)
        if isinstance(entry.what, Sighting)
    )


file_lines = st.dictionaries(
    st.sampled_from(("a1", "b2", "c3")), st.tuples(st.sampled_from(("red", "green")), st.none() | st.integers(0, 9))
)


@given(file_lines, graded_pasts())
def test_over_all_lines_the_tallies_are_a_plain_recount(
    lines: dict[str, tuple[str, int | None]], past: tuple[Entry, ...]
) -> None:
    found = lines_in(past, with_lines(**lines), YEAR)
    grades = list(chain.from_iterable(each.grades.values() for each in found))
    summed = {
        "hatch": sum(each.young.number for each in found),
        "added": sum(each.added.number for each in found),
        "dead": sum(each.dead.number for each in found),
        "kept": sum(grade.kept.number for grade in grades),
        "culled": sum(grade.culled.number for grade in grades),
        "sold": sum(grade.sold.number for grade in grades),
    }
    counted = plain_recount(past)
    assert summed == {saw: counted[saw] for saw in summed}


@given(file_lines, graded_pasts())
def test_of_each_grade_that_is_named_with_its_line_as_many_are_tallied_as_were_written_down(
    lines: dict[str, tuple[str, int | None]], past: tuple[Entry, ...]
) -> None:
    seen = [(entry, entry.what) for entry in past if isinstance(entry.what, Sighting) and entry.what.line is not None]
    plain: Counter[tuple[str | None, str | None]] = Counter()
    for entry, what in seen:
        if what.saw == "culled" and entry.day.year == YEAR:
            plain[what.line, what.grade] += what.heads
    found = lines_in([entry for entry, _ in seen], with_lines(**lines), YEAR)
    tallied = {(year.line, name): grade.culled.number for year in found for name, grade in year.grades.items()}
    assert {key: number for key, number in tallied.items() if number} == {
        key: each for key, each in plain.items() if each
    }


@given(graded_pasts(), st.integers())
def test_the_order_in_which_entries_are_read_does_not_matter(past: tuple[Entry, ...], seed: int) -> None:
    shuffled = list(past)
    Random(seed).shuffle(shuffled)
    assert lines_in(shuffled, EMPTY, YEAR) == lines_in(past, EMPTY, YEAR)


def test_on_one_day_the_first_written_down_comes_first_also_when_read_last() -> None:
    past = entries((0, sighting("moved", 6, to="b2")), (0, sighting("hatch", 9, tank="b2")))
    (dark,) = lines_in(reversed(past), with_lines(a1=("dark", None)), YEAR)
    assert (dark.line, dark.hatches) == ("dark", 1)


@given(graded_pasts())
def test_a_range_always_holds_the_number_written_down(past: tuple[Entry, ...]) -> None:
    for year in lines_in(past, EMPTY, YEAR):
        for tally in (year.young, year.dead, *(grade.culled for grade in year.grades.values())):
            assert tally.least <= tally.number <= tally.most


def test_an_act_that_was_taken_back_is_not_tallied() -> None:
    ledger = MemoryLedger()
    ledger.append([sighting("hatch", 9, line="dark")], day=DAY, at=AT, by="Ana")
    (culled,) = ledger.append([sighting("culled", 5, grade="B")], day=DAY, at=AT + timedelta(hours=1), by="Ana")
    before = lines_in(ledger.of_kind("sighting"), EMPTY, YEAR)
    ledger.append([Undone(culled.act)], day=DAY, at=AT + timedelta(hours=2), by="Ana")
    (dark,) = lines_in(ledger.of_kind("sighting"), EMPTY, YEAR)

    assert before[0].grades["B"].culled == Tally(5, 5, 5)
    assert (dark.young, dark.grades) == (Tally(9, 9, 9), {})


def test_each_tank_has_the_files_line_or_the_one_that_came_into_it() -> None:
    seen = entries((0, sighting("moved", 6, to="b2")), (1, sighting("added", 3, tank="c3", line="light")))
    assert lines_of_tanks(seen, with_lines(a1=("dark", 3))) == {"a1": "dark", "b2": "dark", "c3": "light"}
