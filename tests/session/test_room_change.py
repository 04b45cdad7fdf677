"""What an edited room file changes, as values; a pure rename is kept apart."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from schedules.ledger.stores.memory import MemoryLedger
from schedules.room import Room
from schedules.room_file import load_room_text
from schedules.session.room_change import PlanChange, RoomChange, only_names, plan_question, room_changes
from schedules.session.session import Session
from schedules.wording.room_changes import plan_change_text, room_change_text
from tests.cli.conftest import ROOM

MORNING = datetime(2026, 11, 25, 6, 30, tzinfo=UTC)


@pytest.fixture(scope="module")
def room() -> Room:
    return load_room_text(ROOM, "room.toml")


def edited(old: str, new: str) -> Room:
    assert old in ROOM
    return load_room_text(ROOM.replace(old, new), "room.toml")


@pytest.mark.parametrize("old", ["Two shelves", "Upper right one", "Fine dust", "Left rack"])
def test_a_name_that_changes_changes_only_names(room: Room, old: str) -> None:
    renamed = edited(f'"{old}"', '"Another name"')

    assert room_changes(room, renamed)
    assert only_names(room, renamed)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("volume = 60", "volume = 61"),
        ("per_week = 7", "per_week = 6"),
        ('name = "Mara"', 'name = "Mara"\ndays_off = ["sunday"]'),
    ],
)
def test_anything_else_that_changes_is_more_than_names(room: Room, old: str, new: str) -> None:
    assert not only_names(room, edited(old, new))


def test_each_difference_says_what_it_is_about(room: Room) -> None:
    renamed = edited('"Upper right one"', '"Lower right one"')
    smaller = edited("count = 90", "count = 80")

    assert room_changes(room, room) == ()
    assert room_changes(room, renamed) == (RoomChange("renamed", "tank", ("a2",)),)
    assert room_changes(room, smaller) == (RoomChange("changed", "tank", ("a1", "a2")),)
    assert room_change_text(RoomChange("renamed", "tank", ("a2",))) == "tank renamed: a2"


def test_the_plan_of_the_same_room_stays_as_it_is_and_that_of_another_is_counted(room: Room) -> None:
    session = Session(room, MemoryLedger(), lambda: MORNING, "Mara", posts="today")
    fewer = replace(room, tanks={"a1": room.tanks["a1"]}, racks=(replace(room.racks[0], tanks=("a1",)),))

    same = plan_question(session, room)()
    other = plan_question(session, fewer)()

    assert (same.added, same.gone) == (0, 0)
    assert "stays as it is" in plan_change_text(same)
    assert other.gone > other.added
    assert plan_change_text(PlanChange(27, 1, 4)) == (
        "the plan of the coming 27 days: 1 serving more, 4 fewer; today stays as posted"
    )
