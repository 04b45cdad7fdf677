"""Litres lost, read off a ledger: what a tank that keeps its masses really lost is found again."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.ledger import Reading, SaltAdded, WaterAdded
from schedules.water.makeup.lost import Lost, lost
from tests.water.makeup.worlds import TODAY, World, history_with, room_with

ROOM = room_with("")
some = st.floats(0.2, 6)
sources = st.sampled_from([(None, 0.0), ("mixed", 180.0)])


def lost_of(world: World) -> Lost | None:
    return lost(ROOM, history_with(*world.written), ROOM.tanks["a"], TODAY)


@given(st.lists(st.tuples(some, sources, st.floats(0, 20)), min_size=1, max_size=6), some)
def test_the_litres_that_really_evaporated_are_found_whatever_was_poured_and_changed_before(
    weeks: list[tuple[float, tuple[str | None, float], float]], last: float
) -> None:
    """Each week the keeper reads, fills up, perhaps changes; the world keeps masses, the program only readings."""
    world = World()
    for number, (evaporated, (source, held), changed) in enumerate(weeks):
        back = 7 * (len(weeks) - number)
        world.evaporate(evaporated)
        world.read(back)
        world.fill(back, source, held)
        if changed > 1:
            world.change(back, changed, source, held)
    world.evaporate(last)
    world.read(0)

    found = lost_of(world)

    assert found is not None
    assert found.loss.litres == pytest.approx(last, rel=1e-6)
    assert found.loss.by == "tds"
    assert found.since == TODAY.replace(day=20)


@given(some, some)
def test_a_tank_that_was_never_topped_off_lost_what_it_lost_since_its_first_reading(one: float, two: float) -> None:
    world = World()
    world.read(14)
    world.evaporate(one)
    world.read(7)
    world.evaporate(two)
    world.read(0)
    found = lost_of(world)
    assert found is not None
    assert found.loss.litres == pytest.approx(one + two, rel=1e-6)


def test_a_reading_after_the_top_off_of_the_same_day_is_believed_before_arithmetic() -> None:
    """The keeper's meter shows 210 after filling up, whatever should come out: 230 later is a loss from 210."""
    history = history_with(
        *((7, Reading("a", "tds", 220)), (7, WaterAdded("a", 2)), (7, Reading("a", "tds", 210))),
        (0, Reading("a", "tds", 230)),
    )
    found = lost(ROOM, history, ROOM.tanks["a"], TODAY)
    assert found is not None
    assert found.solids == (210, 230)
    assert found.loss.litres == pytest.approx(40 * (1 - 210 / 230))


def test_conductivity_is_read_as_solids_by_the_rooms_factor() -> None:
    history = history_with((7, Reading("a", "conductivity", 400)), (0, Reading("a", "conductivity", 420)))
    found = lost(ROOM, history, ROOM.tanks["a"], TODAY)
    assert found is not None
    assert found.solids == (200, 210)


def test_after_a_top_off_that_no_reading_followed_the_usual_loss_counts() -> None:
    """Two litres each week after the first: 2 / 7 litres a day, for the three days since."""
    history = history_with(
        *((17, WaterAdded("a", 5)), (10, WaterAdded("a", 2)), (3, Reading("a", "tds", 220)), (3, WaterAdded("a", 2)))
    )
    found = lost(ROOM, history, ROOM.tanks["a"], TODAY)
    assert found is not None
    assert found.loss.litres == pytest.approx(4 / 14 * 3)
    assert (found.loss.by, found.loss.error) == ("usual", None)


@pytest.mark.parametrize(
    "entries",
    [
        (),
        ((0, Reading("a", "tds", 220)),),
        ((3, WaterAdded("a", 2)),),
        ((3, WaterAdded("a", 2)), (0, Reading("a", "tds", 220))),
        ((9, Reading("a", "tds", 200)), (3, WaterAdded("a", 2, "unknown")), (0, Reading("a", "tds", 220))),
        ((9, Reading("a", "tds", 200)), (3, SaltAdded("a", "unknown", 2)), (0, Reading("a", "tds", 220))),
        ((60, Reading("a", "tds", 200)), (0, Reading("a", "tds", 220))),
    ],
)
def test_where_too_little_is_known_no_loss_is_made_up(entries: tuple[tuple[int, Reading], ...]) -> None:
    assert lost(ROOM, history_with(*entries), ROOM.tanks["a"], TODAY) is None


def test_what_comes_after_the_day_is_not_looked_at() -> None:
    history = history_with((7, Reading("a", "tds", 200)), (3, Reading("a", "tds", 210)), (0, Reading("a", "tds", 400)))
    found = lost(ROOM, history, ROOM.tanks["a"], TODAY.replace(day=24))
    assert found is not None
    assert found.solids == (200, 210)
