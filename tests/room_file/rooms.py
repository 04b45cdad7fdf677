"""Small rooms and files for the checks on the room file."""

from __future__ import annotations

from dataclasses import replace

import pytest

from schedules.room import Keeper, Room
from schedules.room_file import RoomFileFaults, load_room_text

FIRST_ROOM = """\
name = "Back room"
time_zone = "Europe/Vienna"

[[feeds]]
id = "dust"
kind = "powder"

[[feeds]]
id = "pellet"
kind = "staple"

[[racks]]
id = "left"

[[racks.tanks]]
id = "moss"
volume = 54
animals = [{ stage = "adult", count = 30 }, { stage = "shrimplet", count = 40 }]
"""

FEEDS = '[[feeds]]\nid = "dust"\nkind = "powder"\n[[feeds]]\nid = "pellet"\nkind = "staple"\n'


def room_text(*, top: str = "", feeds: str = FEEDS, tank: str = "volume = 54\n") -> str:
    """A room file of one tank: two lines, what is at the top, the feeds, the rack, the tank `moss` after its id."""
    head = 'name = "Back room"\ntime_zone = "Europe/Vienna"\n'
    return f'{head}{top}{feeds}[[racks]]\nid = "left"\n[[racks.tanks]]\nid = "moss"\n{tank}'


def room_of(*, top: str = "", feeds: str = FEEDS, tank: str = "volume = 54\n") -> Room:
    """The room of `room_text`."""
    return load_room_text(room_text(top=top, feeds=feeds, tank=tank), "room.toml")


def faults_of(text: str) -> list[str]:
    """What is said of a text that is no sound room file, without the file's name."""
    with pytest.raises(RoomFileFaults) as caught:
        load_room_text(text, "room.toml")
    lines = caught.value.lines()
    assert str(caught.value) == "\n".join(lines)
    assert all(line.startswith("room.toml:") for line in lines)
    return [line.removeprefix("room.toml:") for line in lines]


def room_with_keepers(*keepers: Keeper) -> Room:
    """A small room with the given keepers."""
    return replace(load_room_text(FIRST_ROOM, "room.toml"), keepers=keepers)
