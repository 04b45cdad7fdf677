"""What an edited room file changes, as values; a pure rename is kept apart."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from schedules.ledger.stores.memory import MemoryLedger
from schedules.room import Appetite, Room, Tools
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


def test_tanks_and_feeds_that_come_go_change_or_are_renamed_are_told_apart_in_this_order(room: Room) -> None:
    tanks, feeds = dict(room.tanks), dict(room.feeds)
    a1, a2 = tanks["a1"], tanks["a2"]
    new = replace(
        room,
        tanks={"a1": replace(a1, name="Other", place="top"), "b1": replace(a2, id="b1")},
        feeds={"dust": replace(feeds["dust"], protein=0.1), "leaf": replace(feeds["flake"], id="leaf")},
        racks=(replace(room.racks[0], tanks=("a1", "b1")),),
    )

    assert room_changes(room, new) == (
        RoomChange("new", "tank", ("b1",)),
        RoomChange("gone", "tank", ("a2",)),
        RoomChange("renamed", "tank", ("a1",)),
        RoomChange("new", "feed", ("leaf",)),
        RoomChange("gone", "feed", ("flake",)),
        RoomChange("changed", "feed", ("dust",)),
    )


def test_another_walk_is_a_change_only_where_the_tanks_are_the_same(room: Room) -> None:
    turned = replace(room, racks=(replace(room.racks[0], tanks=tuple(reversed(room.racks[0].tanks))),))

    assert turned.walk == tuple(reversed(room.walk))
    assert room_changes(room, turned) == (RoomChange("walk"),)
    assert not only_names(room, turned)


@pytest.mark.parametrize(
    ("setting", "value"),
    [
        ("name", "Another room"),
        ("zone", ZoneInfo("Europe/Lisbon")),
        ("rounds", ()),
        ("keepers", ()),
        ("clocks", {}),
        ("appetite", Appetite(q10=3.0)),
        ("tools", Tools(adults_per_piece=7)),
    ],
)
def test_a_setting_that_changes_is_named(room: Room, setting: str, value: object) -> None:
    changed = replace(room, **{setting: value})  # type: ignore[arg-type]

    assert room_changes(room, changed) == (RoomChange("setting", "", (setting,)),)
    assert only_names(room, changed) == (setting == "name")


def test_the_racks_are_a_setting_by_their_names(room: Room) -> None:
    renamed = replace(room, racks=(replace(room.racks[0], name="Wall"),))

    assert room_changes(room, renamed) == (RoomChange("setting", "", ("racks",)),)


@pytest.mark.parametrize("changed", ["name", "place"])
def test_a_place_is_a_name_of_a_tank(room: Room, changed: str) -> None:
    tank = replace(room.tanks["a1"], **{changed: "elsewhere"})  # type: ignore[arg-type]
    moved = replace(room, tanks={**room.tanks, "a1": tank})

    assert only_names(room, moved)
    assert room_changes(room, moved) == (RoomChange("renamed", "tank", ("a1",)),)
    feed = replace(room.feeds["dust"], name="Other dust")
    assert only_names(room, replace(room, feeds={**room.feeds, "dust": feed}))


def test_what_a_change_makes_of_the_plan_leaves_today_and_counts_the_coming_days(room: Room) -> None:
    session = Session(room, MemoryLedger(), lambda: MORNING, "Mara", posts="days")
    fewer = replace(room, tanks={"a1": room.tanks["a1"]}, racks=(replace(room.racks[0], tanks=("a1",)),))
    posted = session.history.posting(session.day)
    assert posted is not None
    of_a2 = sum(due.tank == "a2" for day in posted.days[1:28] for due in day)

    change = plan_question(session, fewer)()

    assert change.days == 27
    assert of_a2 - 3 <= change.gone - change.added <= of_a2 + 3
