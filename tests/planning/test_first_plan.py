"""A room's first morning: nobody waits for a first meal, and the young eat on that very day."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from demo_racks import room_path
from schedules.history import History
from schedules.ledger import Posting
from schedules.ledger.stores.memory import MemoryLedger
from schedules.planning.opening import open_day
from schedules.planning.problem.build import build_problem
from schedules.planning.search import plan
from schedules.room import Room
from schedules.room.days_off import is_day_off
from schedules.room_file import load_room, load_room_text
from schedules.room_file.starter import StarterAnswers, starter_text
from schedules.round import round_sheet

DAY = date(2026, 11, 25)
"""The day the invented rooms were written for; somebody is there on it."""
YOUNG = 'animals = [{ stage = "adult", count = 27 }, { stage = "shrimplet", count = 40 }]'


def starter(*, young: bool) -> Room:
    text = starter_text(StarterAnswers(tanks_per_rack=6))
    if young:
        text = text.replace('animals = [{ stage = "adult", count = 27 }]', YOUNG)
        assert text.count(YOUNG) == 6
    return load_room_text(text, "room.toml")


def first_morning(room: Room, *, at_once: bool) -> tuple[Posting, History]:
    ledger = MemoryLedger()
    now = datetime(DAY.year, DAY.month, DAY.day, 7, 30, tzinfo=room.zone)
    history = open_day(room, ledger, now, at_once=at_once)
    posting = ledger.posting(DAY)
    assert posting is not None
    return posting, history


@pytest.mark.parametrize("at_once", [True, False])
@pytest.mark.parametrize("young", [True, False])
def test_a_starter_rooms_first_morning_has_stops(at_once: bool, young: bool) -> None:
    room = starter(young=young)
    _, history = first_morning(room, at_once=at_once)
    assert round_sheet(room, history, DAY, DAY, "morning").stops


@pytest.mark.parametrize("at_once", [True, False])
def test_every_tank_of_a_starter_room_with_shrimplets_gets_fine_feed_on_the_first_day(at_once: bool) -> None:
    room = starter(young=True)
    posting, _ = first_morning(room, at_once=at_once)
    fed = {due.tank for due in posting.due(DAY) if room.feeds[due.feed].table == "fine"}
    assert fed == set(room.tanks)


@pytest.mark.parametrize("name", ["first_rack", "breeding_room"])
def test_so_does_every_tank_of_the_invented_rooms(name: str) -> None:
    room = load_room(room_path(name))
    posting, _ = first_morning(room, at_once=True)
    young = {
        tank.id
        for tank in room.tanks.values()
        if tank.count("shrimplet", DAY) and any(room.feeds[feed].table == "fine" for feed in tank.feeds)
    }
    assert young and not is_day_off(room, DAY)
    assert young <= {due.tank for due in posting.due(DAY) if room.feeds[due.feed].table == "fine"}


def test_fan_feeders_eat_on_the_first_day_too() -> None:
    room = load_room(room_path("breeding_room"))
    posting, _ = first_morning(room, at_once=True)
    fans = {tank.id for tank in room.tanks.values() if tank.count("filter_feeder", DAY)}
    assert fans
    assert fans <= {due.tank for due in posting.due(DAY) if room.feeds[due.feed].table == "fan"}


def test_nobody_waits_longer_for_a_first_meal_than_the_longest_gap_of_food_on_the_ground() -> None:
    """Three days (planning rules, form 2: the clock `ground`)."""
    room = starter(young=False)
    posting, _ = first_morning(room, at_once=False)
    for tank in room.tanks:
        days = [number for number, served in enumerate(posting.days) if any(due.tank == tank for due in served)]
        assert days[0] <= 2


def test_the_first_rounds_of_many_alike_tanks_are_level() -> None:
    """No day of the first week has twice the work of the mean of its days."""
    room = load_room_text(starter_text(StarterAnswers(racks=2, tanks_per_rack=12)), "room.toml")
    history = History(DAY, DAY, (), (), {}, {})
    problem = build_problem(room, history, DAY, 28)
    made = plan(problem)
    counts = [sum(slot.day == number for slot in made.slots) for number in range(7)]
    assert max(counts) <= 2 * sum(counts) / 7
