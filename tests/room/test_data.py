"""A room comes back from its plain data as it was, and data of another shape is refused."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, time
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_racks import room_path
from schedules.room import Appetite, Keeper, Room, RoundTime, Tools, Units, Vessel, Water
from schedules.room.chores import Chore, ChorePlace
from schedules.room.data import DataFault, room_data, room_from
from schedules.room_file import load_room
from tests.strategies import rooms

dates = st.dates(date(2000, 1, 1), date(2100, 1, 1))
texts = st.text(max_size=12)
keepers = st.builds(
    Keeper,
    texts,
    st.frozensets(st.integers(0, 6)),
    st.frozensets(dates, max_size=4),
    st.lists(texts, max_size=2).map(tuple),
    st.none() | dates,
)
walks = st.builds(RoundTime, texts, st.times())
numbers = st.floats(0, 1e9)
waters = st.builds(Water, *[st.none() | numbers] * 5)
appetites = st.builds(
    Appetite,
    st.dictionaries(st.sampled_from(("adult", "shrimplet")), numbers),
    st.dictionaries(st.sampled_from(("adult", "shrimplet")), numbers),
    celsius=numbers,
)
tools = st.builds(
    Tools, st.none() | numbers, st.lists(st.builds(Vessel, numbers, numbers, st.booleans()), max_size=3).map(tuple)
)

chores = st.sampled_from(
    (
        (),
        (
            Chore(
                "wipe", "Wipe", (ChorePlace("a1"), ChorePlace(rack="left")), "morning", "stop", 1.5, rule="FREQ=DAILY"
            ),
            Chore(
                "look", "Look", (ChorePlace(),), "morning", "after", 2, condition="after_move_in", days=3, by=("Ada",)
            ),
            Chore("meters", "M", (), "noon", "before", 8, every=30, begins=date(2026, 11, 1), done_by="reading"),
        ),
    )
)


@st.composite
def whole_rooms(draw: st.DrawFn) -> Room:
    """Rooms with every part of them drawn, so that each type of field is met."""
    room = draw(rooms())
    tanks = {tank: replace(each, water=draw(waters), name=draw(texts)) for tank, each in room.tanks.items()}
    return replace(
        room,
        name=draw(texts),
        zone=ZoneInfo(draw(st.sampled_from(("Europe/Vienna", "America/St_Johns", "UTC", "Asia/Kathmandu")))),
        units=Units(draw(st.booleans()), draw(st.booleans())),
        keepers=tuple(draw(st.lists(keepers, max_size=3))),
        rounds=tuple(draw(st.lists(walks, max_size=3))),
        appetite=draw(appetites),
        tools=draw(tools),
        chores=draw(chores),
        tanks=tanks,
    )


@given(whole_rooms())
def test_a_room_comes_back_from_json_as_it_was(room: Room) -> None:
    back = room_from(json.loads(json.dumps(room_data(room))))

    assert back == room
    assert back.walk == room.walk
    assert [list(each.feeds) for each in back.tanks.values()] == [list(each.feeds) for each in room.tanks.values()]
    assert type(back.zone) is ZoneInfo and back.zone.key == room.zone.key


@pytest.mark.parametrize("name", ["first_rack", "breeding_room", "farm"])
def test_the_rooms_that_come_with_the_program_come_back_as_they_were(name: str) -> None:
    room = load_room(room_path(name))

    assert room_from(json.loads(json.dumps(room_data(room)))) == room


ROOM = replace(load_room(room_path("first_rack")), rounds=(RoundTime("morning", time(7)),))


def changed(at: tuple[Any, ...], value: Any) -> Any:
    data = json.loads(json.dumps(room_data(ROOM)))
    inner = data
    for step in at[:-1]:
        inner = inner[step]
    inner[at[-1]] = value
    return data


@pytest.mark.parametrize(
    "data",
    [
        None,
        [],
        {},
        "room",
        [None] * 11,
        changed((0,), 3),
        changed((1,), "Nowhere/Town"),
        changed((1,), "../../etc/passwd"),
        changed((2, 0), 1),
        changed((4, 0, 1), "25:00"),
        changed((4,), "morning"),
        changed((6,), []),
        [*room_data(ROOM), None],
    ],
)
def test_data_of_another_shape_is_refused(data: Any) -> None:
    with pytest.raises(DataFault):
        room_from(data)
