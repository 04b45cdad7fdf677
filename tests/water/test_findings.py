"""Each finding of a tank's own readings with everything it says, and the readings and acts it is read off."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from schedules.ledger import Reading, SaltAdded, WaterAdded, WaterChanged, What
from schedules.room import Room, Tank
from schedules.room.water.rules import Band
from schedules.water.watch import Finding, room_findings, tank_findings, too_few, trend, watched
from schedules.water.watch.findings import Done, Read
from tests.water.rooms import TODAY, first_rack, past_of

BAND = Band(low=150, high=200, lowest=100, highest=220)


def ago(days: int) -> date:
    return TODAY - timedelta(days=days)


def tank_with(band: Band | None) -> tuple[Room, Tank]:
    room, tank = first_rack()
    tank = replace(tank, bands={} if band is None else {"tds": band})
    return replace(room, tanks={**room.tanks, tank.id: tank}), tank


@pytest.mark.parametrize(
    ("value", "kind", "bound"),
    [(99, "limit", 100), (149, "target", 150), (201, "target", 200), (221, "limit", 220)],
)
def test_a_value_beyond_a_bound_names_the_bound_and_the_day(value: float, kind: str, bound: float) -> None:
    _, tank = tank_with(BAND)
    past = past_of((3, Reading(tank.id, "tds", value)))
    assert list(tank_findings(past, tank, TODAY)) == [
        Finding(kind, tank.id, "tds", ago(3), value, bound=bound)  # type: ignore[arg-type]
    ]


@pytest.mark.parametrize("value", [100, 150, 200])
def test_a_value_at_a_bound_is_within_it(value: float) -> None:
    _, tank = tank_with(BAND)
    found = list(tank_findings(past_of((0, Reading(tank.id, "tds", value))), tank, TODAY))
    assert [each.kind for each in found] == (["target"] if value == 100 else [])


def test_without_a_band_or_a_reading_nothing_is_beyond() -> None:
    _, tank = tank_with(None)
    assert list(tank_findings(past_of((0, Reading(tank.id, "tds", 900))), tank, TODAY)) == []
    _, tank = tank_with(BAND)
    assert list(tank_findings(past_of(), tank, TODAY)) == []


def test_only_the_newest_reading_up_to_the_day_counts() -> None:
    _, tank = tank_with(BAND)
    past = past_of(
        (5, Reading(tank.id, "tds", 900)), (3, Reading(tank.id, "tds", 180)), (1, Reading(tank.id, "tds", 90))
    )
    assert list(tank_findings(past, tank, ago(2))) == []
    assert [each.value for each in tank_findings(past, tank, ago(4))] == [900]


@pytest.mark.parametrize(
    ("days", "change", "found"),
    [
        (1, 5.0, False),
        (1, 5.5, True),
        (1, -5.5, True),
        (4, 20.0, False),
        (4, 20.5, True),
        (10, 50.5, True),
        (11, 99.0, False),
        (0, 5.0, False),
    ],
)
def test_a_swing_is_more_than_the_daily_change_for_each_day_between_two_readings(
    days: int, change: float, found: bool
) -> None:
    room, tank = tank_with(Band(daily=5))
    past = past_of((days, Reading(tank.id, "tds", 150, "08:00")), (0, Reading(tank.id, "tds", 150 + change, "09:00")))
    expected = Finding("swing", tank.id, "tds", TODAY, 150 + change, 150, ago(days), 5)
    swings = [each for each in room_findings(room, past, TODAY) if each.kind == "swing"]
    assert swings == ([expected] if found else [])


def test_what_was_read_and_done_is_listed_by_day_with_what_was_poured_in() -> None:
    _, tank = tank_with(None)
    acts: list[tuple[int, What]] = [
        (9, Reading(tank.id, "tds", 150, "08:00")),
        (9, Reading(tank.id, "tds", 160, "19:00")),
        (8, Reading(tank.id, "ph", 6.5)),
        (7, WaterAdded(tank.id, tank.litres / 8)),
        (6, WaterChanged(tank.id, tank.litres / 4, "mixed")),
        (5, WaterChanged(tank.id, tank.litres * 2)),
        (4, SaltAdded(tank.id, "salt", 1)),
        (3, Reading(tank.id, "tds", 170)),
        (0, Reading(tank.id, "tds", 180)),
    ]
    past = past_of(*acts)
    held = {None: 0.0, "mixed": 120.0}

    assert list(watched(past, tank, "tds", ago(3), held.get)) == [
        Read(ago(9), 160),
        Done(ago(7), 0.125, 0.0, added=True),
        Done(ago(6), 0.25, 120.0),
        Done(ago(5), 1.0, 0.0),
        Done(ago(4), dose=True),
        Read(ago(3), 170),
    ]
    # Where nothing is known of the waters, so it is said; and pouring some in says nothing of the temperature.
    assert [each.value for each in watched(past, tank, "ph", TODAY) if isinstance(each, Done)] == [None] * 4
    assert list(watched(past, tank, "temperature", TODAY)) == []


def test_a_day_counts_once_however_often_it_was_read() -> None:
    _, tank = tank_with(None)
    twice = [(days, Reading(tank.id, "tds", 150)) for days in (4, 3, 2, 1) for _ in range(2)]
    assert too_few(past_of(*twice), tank, "tds", TODAY)
    assert not too_few(past_of(*twice, (0, Reading(tank.id, "tds", 150))), tank, "tds", TODAY)


def test_findings_of_a_room_come_newest_first_then_in_walking_order() -> None:
    room, _ = first_rack()
    one, other = room.walk[:2]
    tanks = {id_: replace(tank, bands={"tds": BAND, "ph": Band(low=6)}) for id_, tank in room.tanks.items()}
    room = replace(room, tanks=tanks)
    past = past_of(
        (2, Reading(other, "tds", 210)),
        (1, Reading(one, "ph", 5)),
        (2, Reading(one, "tds", 210)),
        (1, Reading(other, "ph", 5)),
        (1, Reading(one, "tds", 210)),
        (1, Reading("gone", "tds", 210)),
    )
    found = [(each.day, each.tank, each.quantity) for each in room_findings(room, past, TODAY)]
    assert found == [
        (ago(1), one, "tds"),
        (ago(1), one, "ph"),
        (ago(1), other, "ph"),
        (ago(2), other, "tds"),
    ]


def test_a_trend_says_from_how_many_readings_and_since_when_it_is_drawn() -> None:
    _, tank = tank_with(Band(low=150, high=200))
    # A steady line of half a mg/L a day, 190 today: 200 in twenty days, by arithmetic.
    days = (50, 42, 35, 28, 21, 14, 7, 0)
    past = past_of(*((day, Reading(tank.id, "tds", 190 - day / 2)) for day in days))
    found = trend(past, tank, "tds", TODAY)

    assert found is not None
    assert (found.day, found.first, found.count) == (TODAY, ago(42), 7)
    assert (found.bound, found.until) == (200, TODAY + timedelta(days=20))
    (leaving,) = tank_findings(past, tank, TODAY)
    assert leaving == Finding(
        "leaving", tank.id, "tds", TODAY, 190, since=ago(42), bound=200, slope=0.5, until=found.until, count=7
    )


@pytest.mark.parametrize(("slope", "leaves"), [(10 / 28, True), (10 / 29, False)])
def test_a_trend_that_leaves_the_target_within_four_weeks_is_a_finding(slope: float, leaves: bool) -> None:
    _, tank = tank_with(Band(low=150, high=200))
    past = past_of(*((day, Reading(tank.id, "tds", 190 - day * slope)) for day in (42, 35, 28, 21, 14, 7, 0)))
    assert [each.kind for each in tank_findings(past, tank, TODAY)] == (["leaving"] if leaves else [])


def test_a_step_of_a_whole_rack_says_since_when() -> None:
    room, tank = first_rack()
    mates = [each.id for each in room.tanks.values() if each.rack == tank.rack][:4]
    days = (21, 18, 14, 11, 7, 4)
    steady = [(day, Reading(mate, "tds", 180.0 + day % 2)) for mate in mates for day in days]
    stepped = [(0, Reading(mate, "tds", 215)) for mate in mates]
    (found,) = [each for each in room_findings(room, past_of(*steady, *stepped), TODAY) if each.kind == "rack_step"]
    assert (found.day, found.since, found.value, found.before) == (TODAY, ago(4), 215, 180)
    assert set(found.tanks) == set(mates)
