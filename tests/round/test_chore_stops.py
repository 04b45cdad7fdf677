"""Chores in the round: stops of their own in walking order, quarantine last; feeding stays as it is without them."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.ledger import ChoreMark
from schedules.planning.posting import plan_days, posted_servings
from schedules.room import Rack, Room
from schedules.room.chores import Chore, ChorePlace
from schedules.round import RoundSheet, finish_stop, round_sheet
from tests.amounts.rooms import TODAY, Past
from tests.chores.rooms import AT, WHOLE_ROOM, Marks, chore, day, room_with
from tests.strategies import pasts, rooms

RACK: tuple[ChorePlace, ...] = (ChorePlace(rack="left"), ChorePlace(rack="right"))
room_and_past = rooms().flatmap(lambda room: st.tuples(st.just(room), pasts(room)))


def sheet(room: Room, number: int = 0) -> RoundSheet:
    return round_sheet(room, Marks().history(day(number)), day(number), day(number), "morning")


def test_stops_of_chores_stand_before_and_after_the_tanks_and_those_of_the_quarantine_last() -> None:
    made = sheet(
        room_with(
            chore("wipe", rule="FREQ=DAILY"),
            chore("meters", WHOLE_ROOM, rule="FREQ=DAILY", order="before"),
            chore("floor", WHOLE_ROOM, rule="FREQ=DAILY", order="after"),
            chore("valves", *RACK, rule="FREQ=DAILY", order="before"),
            chore("lamps", RACK[0], rule="FREQ=DAILY", order="after"),
            chore("tools", WHOLE_ROOM, rule="FREQ=DAILY", order="after", quarantine=True),
        )
    )
    walked = [(stop.tank or stop.rack or "room", *(each.chore.id for each in stop.chores)) for stop in made.stops]

    assert walked == [
        ("room", "meters"),
        ("left", "valves"),
        ("a1", "wipe"),
        ("a2", "wipe"),
        ("a3", "wipe"),
        ("left", "lamps"),
        ("right", "valves"),
        ("b1", "wipe"),
        ("b2", "wipe"),
        ("room", "floor"),
        ("q1", "wipe"),
        ("room", "tools"),
    ]
    assert len({stop.key for stop in made.stops}) == len(made.stops)


def test_a_tank_with_a_chore_and_no_feed_is_a_stop_whose_minutes_count() -> None:
    made = sheet(room_with(chore("wipe", AT["a2"], rule="FREQ=DAILY", minutes=2.5)))

    assert [stop.tank for stop in made.stops] == ["a2"]
    assert made.stops[0].open
    assert made.minutes_left == 2.5
    assert finish_stop(made.stops[0]) == (ChoreMark("wipe", "a2"),)


def test_a_chore_belongs_to_its_round() -> None:
    evening = replace(chore("wipe", rule="FREQ=DAILY"), round="evening")

    assert sheet(room_with(evening)).stops == ()


def _chores(room: Room) -> tuple[Chore, ...]:
    tanks = tuple(ChorePlace(tank=tank) for tank in room.walk)
    return (
        Chore("wipe", "wipe", tanks, "morning", "stop", 1.0, rule="FREQ=DAILY", begins=TODAY),
        Chore("meters", "meters", (ChorePlace(),), "morning", "before", 8.0, every=3, begins=TODAY),
    )


@given(room_and_past)
@settings(max_examples=25, deadline=None)
def test_chores_change_nothing_of_what_is_fed_and_a_room_without_any_has_feeding_stops_alone(
    made: tuple[Room, Past],
) -> None:
    """The same round and the same entries, chore for chore left out."""
    room, past = made
    problem, plan = plan_days(room, past.history(), TODAY, 3)
    past.posted(TODAY, *posted_servings(room, past.history(), problem, plan))
    plain = round_sheet(room, past.history(), TODAY, TODAY, "morning")
    beside = round_sheet(replace(room, chores=_chores(room)), past.history(), TODAY, TODAY, "morning")

    assert all(stop.servings and not stop.chores and stop.tank for stop in plain.stops)
    assert tuple(replace(stop, chores=()) for stop in beside.stops if stop.servings) == plain.stops
    written = [[what for what in finish_stop(stop) if not isinstance(what, ChoreMark)] for stop in beside.stops]
    assert [each for each in written if each] == [list(acts) for stop in plain.stops if (acts := finish_stop(stop))]


def test_racks_of_nothing_but_quarantine_have_their_own_stops_too() -> None:
    room = room_with(chore("valves", *RACK, rule="FREQ=DAILY", order="after"))
    alone = replace(room, racks=(*room.racks[:1], Rack("right", "Right", ("q1",))))

    assert [stop.rack for stop in sheet(alone).stops] == ["left", "right"]
