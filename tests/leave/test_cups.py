"""What lies ready for each visit and rack: all of what is due there, in cups of one strength for all days away."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from schedules.leave.cups import RackDay, rack_days
from schedules.leave.plan import LeavePlan
from schedules.room import Rack, Room
from tests.amounts.rooms import TODAY, due, make_feed, make_room, make_tank

DUST, FLAKE = make_feed("dust", "powder"), make_feed("flake", "staple")
TANKS = ("a1", "a2", "b1", "b2")


def room_of_two_racks() -> Room:
    room = make_room([DUST, FLAKE], *(make_tank(tank, [DUST, FLAKE]) for tank in TANKS))
    racks = (Rack("left", "Left", TANKS[:2]), Rack("right", "Right", TANKS[2:]))
    tanks = {tank: replace(room.tanks[tank], rack="left" if tank in TANKS[:2] else "right") for tank in TANKS}
    return replace(room, racks=racks, tanks=tanks)


ROOM = room_of_two_racks()
FIRST = TODAY + timedelta(days=2)
PLAN = LeavePlan(
    FIRST,
    (
        (due("a1", DUST, 0.3, 20), due("a2", DUST, 0.3, 40), due("a2", FLAKE, 0.3, 60), due("b1", FLAKE, 0.3, 60)),
        (),
        (due("a1", DUST, 0.3, 20), due("b1", FLAKE, 0.3, 60), due("b2", FLAKE, 0.3, 30)),
    ),
)


def on(rack: str, day: date) -> RackDay:
    (found,) = (each for each in rack_days(ROOM, PLAN) if (each.rack.id, each.day) == (rack, day))
    return found


def test_each_rack_is_listed_on_each_visit_on_which_something_is_due_there() -> None:
    later = FIRST + timedelta(days=2)
    assert [(each.rack.id, each.day, [due.tank for due in each.due]) for each in rack_days(ROOM, PLAN)] == [
        ("left", FIRST, ["a1", "a2", "a2"]),
        ("left", later, ["a1"]),
        ("right", FIRST, ["b1"]),
        ("right", later, ["b1", "b2"]),
    ]


def test_a_cup_holds_what_the_tanks_of_its_rack_get_of_its_feed_on_that_visit() -> None:
    for day, doses in ((FIRST, {"a1": 20, "a2": 40}), (FIRST + timedelta(days=2), {"a1": 20})):
        (cup,) = on("left", day).cups
        assert cup.feed == "dust"
        assert {each.tank: each.mg for each in cup.doses} == doses
        assert cup.mass_mg >= sum(doses.values())
        assert (cup.weighed_on, cup.made_on) == (FIRST, day)
    assert on("right", FIRST).cups == ()


def test_the_cups_of_a_feed_are_of_one_strength_so_that_a_dose_stays_the_same() -> None:
    first, later = (on("left", FIRST + timedelta(days=days)) for days in (0, 2))
    assert first.cups[0].mg_per_ml == pytest.approx(later.cups[0].mg_per_ml)
    one, other = first.doses.of(first.due[0]), later.doses.of(later.due[0])
    assert one is not None
    assert other is not None
    assert (one.ml, one.times) == (other.ml, other.times)
    assert one.ml * one.times * first.cups[0].mg_per_ml == pytest.approx(20, rel=0.11)


def test_what_is_given_by_the_piece_is_added_up_by_feed() -> None:
    assert on("left", FIRST).pieces() == {"flake": 60}
    assert on("left", FIRST + timedelta(days=2)).pieces() == {}
    assert on("right", FIRST + timedelta(days=2)).pieces() == {"flake": 90}
