"""The invented rooms: sound, as large as they are said to be, and lived in on the day in their first line."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from demo_racks import ROOMS, room_path
from schedules.room import Room
from schedules.room.days_off import is_day_off
from schedules.room_file import load_room

AS_OF = date(2026, 11, 25)
SIZES = {"first_rack": 6, "breeding_room": 48, "farm": 240}


@pytest.fixture(scope="module")
def rooms() -> dict[str, Room]:
    return {name: load_room(room_path(name)) for name in ROOMS}


def test_each_room_has_as_many_tanks_as_it_is_said_to_have(rooms: dict[str, Room]) -> None:
    assert {name: len(room.walk) for name, room in rooms.items()} == SIZES


@pytest.mark.parametrize("name", ROOMS)
def test_the_first_line_says_as_of_when_the_dates_are(name: str) -> None:
    assert room_path(name).read_text(encoding="utf-8").split("\n")[0] == f"# As of {AS_OF}"


def test_a_name_that_is_no_room_is_refused() -> None:
    with pytest.raises(KeyError):
        room_path("../secret")


@pytest.mark.parametrize("name", ROOMS)
def test_volumes_and_stock_are_those_of_a_room_that_could_be(name: str, rooms: dict[str, Room]) -> None:
    for tank in rooms[name].tanks.values():
        assert 20 <= tank.litres <= 400
        assert 1 <= len(tank.feeds) <= 8
        # Vazquez et al. 2017 (J Crust Biol 37:367-373) kept 2.5, 5 and 10 juveniles per litre.
        heads = sum(tank.count(stage, AS_OF) for stage in tank.stages(AS_OF))
        assert heads / tank.litres <= 10


@pytest.mark.parametrize("name", ROOMS)
def test_no_two_tanks_of_a_room_have_the_same_name(name: str, rooms: dict[str, Room]) -> None:
    names = [tank.name for tank in rooms[name].tanks.values()]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("name", ["breeding_room", "farm"])
def test_larger_rooms_have_everything_that_a_round_has_to_deal_with(name: str, rooms: dict[str, Room]) -> None:
    room = rooms[name]
    tanks = room.tanks.values()
    assert {feed.kind for feed in room.feeds.values()} == {
        "biofilm",
        "powder",
        "suspension",
        "mineral",
        "staple",
        "protein",
        "greens",
    }
    assert {stage for tank in tanks for stage in tank.stages(AS_OF)} == {
        "shrimplet",
        "juvenile",
        "adult",
        "filter_feeder",
    }
    assert room.tanks[room.walk[-1]].quarantine
    assert any(tank.rest_weekday is not None for tank in tanks)
    assert any(tank.feeds[feed] != room.feeds[feed].rules for tank in tanks for feed in tank.feeds)
    hatches = [here.first for tank in tanks for here in tank.animals if here.stage == "shrimplet" and here.first]
    closing = [here.last for tank in tanks for here in tank.animals if here.stage == "shrimplet" and here.last]
    assert any(AS_OF < day <= AS_OF + timedelta(days=28) for day in hatches)
    assert any(AS_OF <= day <= AS_OF + timedelta(days=28) for day in closing)


def test_the_breeding_room_has_days_on_which_nobody_comes(rooms: dict[str, Room]) -> None:
    days = [AS_OF + timedelta(days=number) for number in range(28)]
    assert [day for day in days if is_day_off(rooms["breeding_room"], day)] == [
        date(2026, 11, 29),
        date(2026, 12, 8),
        date(2026, 12, 9),
        date(2026, 12, 13),
    ]
    assert not any(is_day_off(rooms["farm"], day) for day in days)
