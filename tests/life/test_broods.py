"""Eggs go where the females that carry them go."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.history.life import Life, life_of
from schedules.history.life.broods import leaving
from schedules.history.life.values import Brood
from schedules.ledger import Sighting, Undone
from schedules.ledger.stores.memory import MemoryLedger
from schedules.review.expected import expected_hatches
from schedules.room import Presence
from tests.ledger.builders import MORNING
from tests.life.rooms import DAY, entries, folded, room_of, sighting

ROOM = room_of(Presence("adult", 20))


def carried(life: Life) -> dict[str, int]:
    """Berried females of each tank."""
    tanks: dict[str, int] = {}
    for brood in life.broods:
        tanks[brood.tank] = tanks.get(brood.tank, 0) + brood.heads
    return tanks


def after_berried(heads: int, *seen: tuple[int, Sighting]) -> Life:
    return folded(ROOM, entries((0, sighting("berried", heads)), *seen))


def test_a_female_that_is_moved_as_berried_is_expected_to_hatch_where_she_is_now() -> None:
    life = after_berried(2, (3, sighting("moved", 1, berried=1)))
    assert carried(life) == {"a1": 1, "b2": 1}
    assert {(each.tank, each.berried) for each in expected_hatches(ROOM, life, DAY)} == {("a1", DAY), ("b2", DAY)}


def test_where_nobody_said_the_berried_ones_leave_in_proportion() -> None:
    """4 of 20 adults are berried: with 10 that leave go two, with a single one goes none, with all go all."""
    assert carried(after_berried(4, (3, sighting("moved", 10)))) == {"a1": 2, "b2": 2}
    assert carried(after_berried(4, (3, sighting("moved", 1)))) == {"a1": 4}
    assert carried(after_berried(4, (3, sighting("moved", 20)))) == {"b2": 4}


def test_one_said_to_be_berried_of_whom_it_was_not_known_is_expected_from_that_day() -> None:
    life = after_berried(1, (3, sighting("moved", 3, berried=2)))
    assert [(brood.tank, brood.heads, brood.berried) for brood in life.broods] == [
        ("b2", 1, DAY),
        ("b2", 1, entries((3, sighting("count")))[0].day),
    ]


@pytest.mark.parametrize("saw", ["sold", "culled", "dead"])
def test_of_those_that_leave_the_room_nothing_is_expected(saw: str) -> None:
    assert carried(after_berried(2, (3, sighting(saw, 2, berried=2)))) == {}  # type: ignore[arg-type]


def test_none_of_those_that_left_were_berried_leaves_all_eggs_where_they_are() -> None:
    assert carried(after_berried(2, (3, sighting("moved", 15, berried=0)))) == {"a1": 2}


def test_young_that_are_moved_take_no_eggs_with_them() -> None:
    seen = (1, sighting("hatch", 30, exact=False)), (5, sighting("moved", 30, stage="shrimplet"))
    assert carried(after_berried(3, *seen)) == {"a1": 2}


def test_a_female_that_comes_back_is_one_with_those_that_stayed() -> None:
    there = (3, sighting("moved", 1, berried=1))
    back = (4, sighting("moved", 1, tank="b2", to="a1", berried=1))
    life = after_berried(2, there, back)
    assert [(brood.tank, brood.heads, brood.berried) for brood in life.broods] == [("a1", 2, DAY)]


def test_an_undone_move_brings_the_expectation_back() -> None:
    ledger = MemoryLedger()
    ledger.append([sighting("berried", 2)], day=DAY, at=MORNING, by="Ana")
    before = carried(life_of(ledger, ROOM))
    (moved,) = ledger.append([sighting("moved", 2, berried=2)], day=DAY, at=MORNING, by="Ana")
    assert carried(life_of(ledger, ROOM)) == {"b2": 2}
    ledger.append([Undone(moved.act)], day=DAY, at=MORNING, by="Ana")
    assert carried(life_of(ledger, ROOM)) == before == {"a1": 2}


@given(st.lists(st.integers(1, 9), max_size=5), st.integers(0, 60), st.integers(0, 60), st.none() | st.integers(0, 60))
def test_no_egg_is_lost_or_made_when_adults_leave(of: list[int], heads: int, there: int, berried: int | None) -> None:
    broods = [Brood("a1", each, DAY, None, number) for number, each in enumerate(of)]
    stay, gone = leaving(broods, heads, there, berried)
    for brood in broods:
        assert brood.heads == sum(each.heads for each in (*stay, *gone) if each.origin == brood.origin)
    assert all(each.heads > 0 for each in (*stay, *gone))
    if berried is not None:
        assert sum(each.heads for each in gone) == min(berried, sum(of))
    elif heads <= there:
        assert sum(each.heads for each in gone) <= max(heads, 0 if heads < there else sum(of))


@pytest.mark.parametrize(
    ("what", "allowed"),
    [
        ({"saw": "moved", "heads": 2, "berried": 3}, "at most 2"),
        ({"saw": "added", "heads": 2, "berried": 1}, "adults that left"),
        ({"saw": "dead", "heads": 2, "berried": 1, "stage": "shrimplet"}, "adults that left"),
    ],
)
def test_more_berried_than_left_or_of_others_is_no_sighting(what: dict[str, object], allowed: str) -> None:
    with pytest.raises(ValueError, match=allowed):
        sighting(what.pop("saw"), **what)  # type: ignore[arg-type]
