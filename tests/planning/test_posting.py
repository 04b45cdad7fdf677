"""What is posted of a plan: parts, amounts, order."""

from __future__ import annotations

from collections import defaultdict
from datetime import timedelta

import pytest

from schedules.amounts.ration import serving
from schedules.ledger import PostedServing
from schedules.planning.posting import plan_days, posted_servings, servings_of
from schedules.planning.problem.build import build_problem
from schedules.planning.problem.types import Slot
from schedules.room import Measure, Presence, Room
from tests.amounts.rooms import TODAY, Past, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder", known=True)
WAFER = make_feed("wafer", "staple", known=True, measure=Measure("wafer", 12.0, 0.5))
LEAF = make_feed("leaf", "greens", known=True, measure=Measure("snippet", 5.0, 0.5))
FEEDS = (DUST, WAFER, LEAF)
ADULTS, YOUNG = Presence("adult", 36), Presence("shrimplet", 60, length=8.0)


def a_room(*animals: Presence) -> Room:
    return make_room(FEEDS, make_tank("a1", FEEDS, animals=animals or (ADULTS, YOUNG), litres=100))


def servings(room: Room, *slots: tuple[int, str]) -> dict[tuple[int, str], PostedServing]:
    history = Past().history()
    problem = build_problem(room, history, TODAY, 14)
    found = servings_of(room, history, problem, [Slot(day, "a1", feed) for day, feed in slots])
    return dict(zip(slots, found, strict=True))


def test_a_staple_alone_is_a_full_meal_and_beside_greens_a_part_of_one() -> None:
    """Shares of .5 and .4 are raised by one factor until they add up to 1 (planning rules, form 2)."""
    found = servings(a_room(ADULTS), (0, "wafer"), (2, "wafer"), (2, "leaf"))
    assert found[0, "wafer"].part == pytest.approx(1, abs=0.1)
    assert found[2, "wafer"].part == pytest.approx(5 / 9, abs=0.1)
    assert found[2, "leaf"].part == pytest.approx(4 / 9, abs=0.1)
    assert found[2, "wafer"].amount_mg < found[0, "wafer"].amount_mg


def test_what_draws_comes_in_a_piece_for_every_so_many_adults_on_a_day_of_powder_only() -> None:
    """36 adults at 18 a piece are two whole pieces (common practice, no source); leaves draw nobody."""
    few = a_room(Presence("adult", 36, length=12.0), YOUNG)
    found = servings(few, (0, "wafer"), (0, "dust"), (2, "wafer"))
    assert found[0, "wafer"].amount == 2 > found[2, "wafer"].amount
    room, history, tank = few, Past().history(), few.tanks["a1"]
    alone = serving(tank, WAFER, 1.0, TODAY + timedelta(days=2), room=room, history=history)
    assert found[2, "wafer"].amount == alone.measures


def test_the_young_get_more_from_day_to_day_as_they_grow() -> None:
    hatched = Presence("shrimplet", 400, first=TODAY)
    found = servings(a_room(hatched), (0, "dust"), (13, "dust"))
    assert found[13, "dust"].amount_mg > found[0, "dust"].amount_mg


def test_a_day_lists_its_servings_in_walking_order_and_each_table_gets_at_most_its_ration() -> None:
    room = make_room(FEEDS, make_tank("q", FEEDS, quarantine=True), make_tank("b", FEEDS), make_tank("a", FEEDS))
    history = Past().history()
    days = posted_servings(room, history, *plan_days(room, history, TODAY, 14))
    assert len(days) == 14
    for served in days:
        places = [(room.walk.index(due.tank), list(room.feeds).index(due.feed)) for due in served]
        assert places == sorted(places)
        taken: dict[tuple[str, str], float] = defaultdict(float)
        for due in served:
            taken[due.tank, room.feeds[due.feed].table] += due.part
        assert all(part <= 1 + 1e-9 for part in taken.values())
