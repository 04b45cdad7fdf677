"""Where a reading or an addition begins to be questioned, and everything that the doubt then says."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from schedules.ledger import Reading, SaltAdded, WaterAdded, WaterChanged
from schedules.room import Units, Water
from schedules.room.water.quantities import Quantity
from schedules.session.doubts.water import (
    WaterDoubt,
    doubt_about_reading,
    doubt_about_salt,
    doubt_about_volume,
)
from schedules.water.readings import Value
from tests.water.rooms import TODAY, first_rack, past_of
from tests.water.test_acts import session_with

TOMORROW = TODAY + timedelta(days=1)
YESTERDAY = TODAY - timedelta(days=1)


def doubted(
    quantity: Quantity, value: float, before: float | None = None, units: Units | None = None
) -> WaterDoubt | None:
    """What speaks against a reading of today, beside what the room file says of the tank."""
    water = Water(**{quantity: before}) if before is not None else Water()
    room, tank = first_rack(water, units or Units())
    return doubt_about_reading(room, past_of(), TODAY, TODAY, tank.id, quantity, value)


@pytest.mark.parametrize(
    ("quantity", "before", "fine", "far"),
    [
        ("temperature", 23.0, (17.0, 29.0), (16.9, 29.1)),
        ("ph", 7.0, (5.5, 8.5), (5.4, 8.6)),
        ("tds", 150.0, (75.0, 300.0), (74.0, 301.0)),
        ("conductivity", 300.0, (150.0, 600.0), (149.0, 601.0)),
        ("gh", 6.0, (3.0, 12.0), (2.9, 12.1)),
        # Below 2 degrees a ratio says nothing: from 0 to 4 is twice 2.
        ("kh", 0.5, (0.0, 4.0), (4.1,)),
        ("conductivity", 10.0, (5.0, 80.0), (81.0,)),
        ("tds", 2.0, (2.0, 40.0), (41.0,)),
    ],
)
def test_how_far_from_the_last_value_is_far(
    quantity: Quantity, before: float, fine: tuple[float, ...], far: tuple[float, ...]
) -> None:
    room, tank = first_rack()
    past = past_of((3, Reading(tank.id, quantity, before)))
    doubts = {value: doubt_about_reading(room, past, TODAY, TODAY, tank.id, quantity, value) for value in (*fine, *far)}
    assert {value for value, doubt in doubts.items() if doubt} == set(far)


@pytest.mark.parametrize(
    ("quantity", "least", "most"),
    [
        ("temperature", 8, 34),
        ("conductivity", 5, 2500),
        ("tds", 2, 1500),
        ("ph", 4, 9.5),
        ("gh", 0, 30),
        ("kh", 0, 25),
        ("ammonia", 0, 10),
        ("nitrite", 0, 10),
        ("nitrate", 0, 250),
    ],
)
def test_without_a_value_before_only_what_is_unusual_is_questioned(
    quantity: Quantity, least: float, most: float
) -> None:
    assert doubted(quantity, least) is None
    assert doubted(quantity, most) is None
    assert doubted(quantity, most * 1.01) is not None
    if least:
        assert doubted(quantity, least * 0.99) is not None


def test_each_doubt_says_what_was_read_what_may_be_meant_and_what_was_there_before() -> None:
    _, tank = first_rack()
    before, kind = Value(175), WaterDoubt
    assert doubted("tds", 1800, 175) == kind("point", tank.id, TODAY, 1800, "tds", 180, before, 0, 100_000)
    assert doubted("tds", 500, 175) == kind("far_from_last", tank.id, TODAY, 500, "tds", None, before)
    assert doubted("conductivity", 0.28) == kind("unit", tank.id, TODAY, 0.28, "conductivity", 280, None, 0, 100_000)
    assert doubted("ph", 70) == kind("beyond", tank.id, TODAY, 70, "ph", 70 * 0.1, None, 0, 14)
    assert doubted("temperature", -500) == kind("beyond", tank.id, TODAY, -500, "temperature", None, None, 0, 50)
    assert doubted("ph", 3.9, 4.5) == kind("unusual", tank.id, TODAY, 3.9, "ph", None, Value(4.5), 4, 9.5)


@pytest.mark.parametrize(
    ("quantity", "typed", "meant"), [("tds", 18, 180), ("tds", 1.8, 180), ("tds", 17_500, 175), ("ph", 0.68, 6.8)]
)
def test_the_point_is_looked_for_one_and_two_places_either_way(quantity: Quantity, typed: float, meant: float) -> None:
    found = doubted(quantity, typed, 6.8 if quantity == "ph" else 175)
    assert found is not None
    assert found.kind == "point"
    assert found.meant == pytest.approx(meant)


def test_where_fahrenheit_is_typed_for_celsius_it_is_the_unit_and_so_the_other_way_round() -> None:
    # 48 °C as typed: were it °F it would be 8.9 °C. 24 °F are -4.4 °C, and 24 was meant in °C.
    assert (found := doubted("temperature", 48)) is not None
    assert found.kind == "unit"
    assert found.meant == pytest.approx(80 / 9)
    assert (found := doubted("temperature", -40 / 9, None, Units(us=True))) is not None
    assert found.kind == "beyond"
    assert found.meant == pytest.approx(24)


def test_beside_a_last_value_that_was_unusual_itself_only_the_distance_counts() -> None:
    assert doubted("ph", 3.5, 3.6) is None
    assert doubted("tds", 1700, 1600) is None
    assert doubted("tds", 1700, 1400) is not None


def test_a_value_of_more_than_sixty_days_ago_says_nothing() -> None:
    room, tank = first_rack()
    for ago, fine in ((60, False), (61, True)):
        past = past_of((ago, Reading(tank.id, "tds", 400)))
        assert (doubt_about_reading(room, past, TODAY, TODAY, tank.id, "tds", 150) is None) is fine


def test_a_reading_of_a_past_day_is_set_beside_those_until_then() -> None:
    room, tank = first_rack()
    past = past_of((5, Reading(tank.id, "tds", 400)), (1, Reading(tank.id, "tds", 150)))
    assert doubt_about_reading(room, past, TODAY, TODAY - timedelta(days=3), tank.id, "tds", 380) is None
    found = doubt_about_reading(room, past, TODAY, TODAY, tank.id, "tds", 380)
    assert found is not None
    assert found.before is not None
    assert (found.before.value, found.before.day) == (150, YESTERDAY)


def test_a_day_to_come_is_questioned_for_everything_and_today_for_nothing() -> None:
    room, tank = first_rack()
    past = past_of()
    assert doubt_about_reading(room, past, TODAY, TOMORROW, tank.id, "tds", 150) == WaterDoubt(
        "future", tank.id, TOMORROW, 150, "tds"
    )
    assert doubt_about_volume(room, TODAY, TOMORROW, tank.id, 1, "add") == WaterDoubt("future", tank.id, TOMORROW, 1)
    assert doubt_about_salt(room, TODAY, TOMORROW, tank.id, 1) == WaterDoubt("future", tank.id, TOMORROW, 1)
    assert doubt_about_reading(room, past, TODAY, TODAY, tank.id, "tds", 150) is None
    assert doubt_about_volume(room, TODAY, TODAY, tank.id, 1, "add") is None
    assert doubt_about_salt(room, TODAY, TODAY, tank.id, 1) is None


def test_half_the_tank_poured_in_all_of_it_changed_and_five_grams_a_litre_are_the_most() -> None:
    room, tank = first_rack()
    litres = tank.litres
    assert doubt_about_volume(room, TODAY, TODAY, tank.id, litres / 2, "add") is None
    assert doubt_about_volume(room, TODAY, TODAY, tank.id, litres / 2 + 1, "add") == WaterDoubt(
        "more_than_tank", tank.id, TODAY, litres / 2 + 1, most=litres / 2
    )
    assert doubt_about_volume(room, TODAY, TODAY, tank.id, litres, "change") is None
    assert doubt_about_volume(room, TODAY, TODAY, tank.id, litres + 1, "change") == WaterDoubt(
        "more_than_tank", tank.id, TODAY, litres + 1, most=litres
    )
    assert doubt_about_salt(room, TODAY, TODAY, tank.id, 5 * litres) is None
    assert doubt_about_salt(room, TODAY, TODAY, tank.id, 5 * litres + 1) == WaterDoubt(
        "much_salt", tank.id, TODAY, 5 * litres + 1, most=5 * litres
    )


def test_a_doubted_addition_is_not_written_until_the_keeper_insists() -> None:
    session, tank = session_with()
    litres = session.room.tanks[tank].litres
    for act in (session.add_water, session.change_water):
        refused = act(tank, litres + 1)
        assert refused.result == "refused"
        assert refused.tanks == {tank}
        assert act(tank, litres + 1, anyway=True).done
    assert session.add_water(tank, litres * 0.6).result == "refused"
    assert session.add_salt(tank, "gh-salt", litres * 6).result == "refused"
    assert session.add_salt(tank, "gh-salt", litres * 6, anyway=True).done
    added, changed = session.add_water(tank, 1), session.change_water(tank, 1)
    salted, poured = session.add_salt(tank, "gh-salt", 1), session.pour(tank, [(None, 1)])
    read = session.read_water(tank, {"ph": 6.5})
    kinds = [each.act and each.act.kind for each in (added, changed, salted, poured, read)]
    assert kinds == ["add_water", "change_water", "add_salt", "pour", "read"]
    assert [entry.what for entry in session.ledger.everything()][:3] == [
        WaterAdded(tank, litres + 1),
        WaterChanged(tank, litres + 1),
        SaltAdded(tank, "gh-salt", litres * 6),
    ]


@pytest.mark.parametrize("change", [True, False])
def test_waters_and_salts_poured_together_are_one_act_of_their_day(change: bool) -> None:
    session, tank = session_with()
    poured = session.pour(tank, [(None, 2), ("mixed", 1)], [("gh-salt", 3)], change=change, day=YESTERDAY)
    made = WaterChanged if change else WaterAdded
    assert poured.done
    written = list(session.ledger.everything())
    assert [entry.what for entry in written] == [
        made(tank, 2, None),
        made(tank, 1, "mixed"),
        SaltAdded(tank, "gh-salt", 3),
    ]
    assert {entry.act for entry in written} == {written[0].act}
    assert {entry.day for entry in written} == {YESTERDAY}


def test_what_is_poured_together_is_questioned_by_all_its_litres_and_by_each_salt() -> None:
    session, tank = session_with()
    litres = session.room.tanks[tank].litres
    third = litres / 3
    much = session.pour(tank, [(None, third), ("mixed", third)])
    assert much.doubt == WaterDoubt("more_than_tank", tank, TODAY, third + third, most=litres / 2)
    salt = session.pour(tank, [(None, 1)], [("gh-salt", 1), ("kh-salt", 6 * litres)])
    assert salt.doubt == WaterDoubt("much_salt", tank, TODAY, 6 * litres, most=5 * litres)
    assert session.pour(tank, []).result == "no_values"
    assert list(session.ledger.everything()) == []
    assert session.pour(tank, [(None, third), ("mixed", third)], change=True).done
    assert session.pour(tank, [(None, third), ("mixed", third)], anyway=True).done
    assert session.pour(tank, [], [("gh-salt", 1)]).done


def test_acts_at_the_water_are_of_the_day_that_is_named_and_else_of_today() -> None:
    session, tank = session_with()
    session.read_water(tank, {"tds": 150}, day=YESTERDAY, time="08:15")
    session.add_water(tank, 1, "mixed", day=YESTERDAY)
    session.change_water(tank, 1, "mixed", day=YESTERDAY)
    session.add_salt(tank, "gh-salt", 1, day=YESTERDAY)
    session.read_water(tank, {"tds": 150})
    written: list[tuple[date, object]] = [(entry.day, entry.what) for entry in session.ledger.everything()]
    assert written == [
        (YESTERDAY, Reading(tank, "tds", 150, "08:15")),
        (YESTERDAY, WaterAdded(tank, 1, "mixed")),
        (YESTERDAY, WaterChanged(tank, 1, "mixed")),
        (YESTERDAY, SaltAdded(tank, "gh-salt", 1)),
        (TODAY, Reading(tank, "tds", 150)),
    ]
    assert session.read_water(tank, {}).result == "no_values"


def test_of_readings_in_a_meters_file_only_new_ones_are_taken_each_once_by_day() -> None:
    session, tank = session_with()
    old = TODAY - timedelta(days=40)
    known, new = Reading(tank, "tds", 150, "08:00"), Reading(tank, "tds", 152, "08:00")
    session.record_readings(old, [known])
    found = [(TODAY, new), (old, known), (YESTERDAY, known), (TODAY, new), (old, new)]

    assert session.unknown_readings(found) == [(old, new), (YESTERDAY, known), (TODAY, new)]
    assert session.unknown_readings([]) == []
    same_day = [(TODAY, Reading(tank, "tds", value)) for value in (160, 150)]
    assert session.unknown_readings(same_day) == same_day


def test_of_readings_in_a_meters_file_each_slip_is_listed_and_those_written_are_written_as_they_are() -> None:
    session, tank = session_with(Water(tds=175))
    slip, fine = Reading(tank, "tds", 1800), Reading(tank, "tds", 180)
    assert [(doubt.day, doubt.value) for doubt in session.doubts_about([(TODAY, fine), (YESTERDAY, slip)])] == [
        (YESTERDAY, 1800)
    ]
    assert session.record_readings(YESTERDAY, [slip, fine]).done
    assert [(entry.day, entry.what) for entry in session.ledger.everything()] == [
        (YESTERDAY, slip),
        (YESTERDAY, fine),
    ]
