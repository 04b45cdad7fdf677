"""What a session knows of its room: the file that changes, who lives there, days without a plan, stages that change."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import date, time, timedelta
from pathlib import Path

from schedules.ledger import Posting, Sighting
from schedules.review.missed import DaySpan
from schedules.room import Presence, Room, RoundTime
from schedules.session.plan_reasons import StageChange, stage_changes
from schedules.session.room_watch import RoomWatch
from schedules.session.session import Session
from tests.amounts.rooms import make_tank
from tests.session.conftest import TODAY, Clock, Moody

DAY = date(2026, 11, 25)


def test_a_file_that_was_saved_is_reported_once_and_waits_until_it_is_taken_in(tmp_path: Path) -> None:
    path = tmp_path / "room.toml"
    path.write_text("a", encoding="utf-8")
    watch = RoomWatch(path)
    assert not watch.changed() and not watch.waits

    path.write_text("ab", encoding="utf-8")
    os.utime(path, ns=(1, 1))
    assert watch.changed() and watch.waits
    assert not watch.changed() and watch.waits

    path.unlink()
    assert not watch.changed(), "a file that is being saved anew is looked at again"
    path.write_text("abc", encoding="utf-8")
    assert watch.changed()


def test_without_a_file_nothing_changes() -> None:
    watch = RoomWatch(None)
    assert not watch.changed() and not watch.waits


def test_stages_that_come_on_a_day_and_those_that_were_there_until_the_day_before() -> None:
    animals = (
        Presence("shrimplet", 30, last=DAY - timedelta(days=1)),
        Presence("juvenile", 28, first=DAY),
        Presence("adult", 5),
        Presence("adult", 9, first=DAY + timedelta(days=1), last=DAY),
    )
    tank = make_tank("a1", (), animals=animals)
    assert stage_changes(tank, DAY) == [StageChange(28, "juvenile", True), StageChange(30, "shrimplet", False)]


def test_an_edited_room_is_lived_in_by_those_who_were_seen(session: Session, room: Room) -> None:
    session.saw(Sighting("a1", "sold", "adult", 10, True))
    edited = replace(room, name="Edited")
    lived = session.lived_in(edited)
    assert (lived.name, lived.tanks["a1"].count("adult", DAY), lived.tanks["a2"].count("adult", DAY)) == (
        "Edited",
        80,
        90,
    )


def test_days_of_which_no_plan_said_anything_are_put_together(room: Room) -> None:
    ledger = Moody()
    start = DAY - timedelta(days=9)
    ledger.append([Posting(start, ((), (), ()))], day=start, at=TODAY - timedelta(days=9), by=None)
    ledger.append([Posting(DAY - timedelta(days=3), ((),))], day=DAY, at=TODAY, by=None)
    session = Session(room, ledger, Clock(), "Mara", posts="nothing")
    assert session.unposted(start) == (
        DaySpan(DAY - timedelta(days=6), DAY - timedelta(days=4)),
        DaySpan(DAY - timedelta(days=2), DAY - timedelta(days=1)),
    )


def test_a_round_that_left_the_room_file_is_left_and_one_that_stayed_is_kept(room: Room) -> None:
    two = replace(room, rounds=(*room.rounds, RoundTime("evening", time(19))))
    session = Session(two, Moody(), Clock(), "Mara", posts="nothing")
    session.open("evening")
    session.take_room(replace(two, name="Edited"))
    assert (session.room.name, session.round) == ("Edited", "evening")
    session.take_room(room)
    assert session.round == "morning"
