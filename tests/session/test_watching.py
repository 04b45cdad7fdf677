"""What a session knows of its room: the file that changes, who lives there, days without a plan, stages that change."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import date, time, timedelta
from pathlib import Path

import pytest

from schedules.ledger import Posting, Sighting
from schedules.ledger.entries.animals.sighting import Saw
from schedules.review.flags.types import RANK
from schedules.review.missed import DaySpan
from schedules.room import Presence, Room, RoundTime
from schedules.room.kinds import Stage
from schedules.session.doubts.animals import stage_meant
from schedules.session.plan_reasons import StageChange, stage_changes
from schedules.session.room_watch import RoomWatch
from schedules.session.session import Session
from tests.amounts.rooms import make_tank
from tests.session.conftest import TODAY, Clock, Moody
from tests.tui.rooms import make_session

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
    assert not watch.changed(), "a file that is being saved again is looked at again"
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


def test_the_room_of_a_day_long_ago_is_the_one_of_the_whole_ledger(session: Session, ledger: Moody) -> None:
    """A sale 300 days ago lies further back than what is known day by day."""
    past = DAY - timedelta(days=300)
    sale = Sighting("a1", "sold", "adult", 10, True)
    ledger.append([sale], day=past, at=TODAY - timedelta(days=300), by="Mara")
    assert session.room_on(past + timedelta(days=1)).tanks["a1"].count("adult", past + timedelta(days=1)) == 80
    assert session.room_on(past - timedelta(days=1)).tanks["a1"].count("adult", past - timedelta(days=1)) == 90


def test_what_was_seen_of_the_animals_holds_in_the_room_at_once_and_touches_its_tank(session: Session) -> None:
    outcome = session.saw(Sighting("a1", "sold", "adult", 10, True))
    assert outcome.tanks == frozenset(("a1",))
    assert (session.room.tanks["a1"].count("adult", DAY), session.room.tanks["a2"].count("adult", DAY)) == (80, 90)


@pytest.mark.parametrize(
    ("animals", "saw", "stage"),
    [
        (("juvenile",), "dead", "juvenile"),
        (("juvenile",), "hatch", "shrimplet"),
        (("juvenile",), "berried", "adult"),
        (("juvenile",), "eyed", "adult"),
        (("juvenile",), "added", "adult"),
        (("juvenile", "shrimplet"), "dead", "adult"),
        ((), "dead", "adult"),
    ],
)
def test_the_stage_meant_where_none_is_named(animals: tuple[Stage, ...], saw: Saw, stage: Stage) -> None:
    here = tuple(Presence(each, 5) for each in animals)
    gone = Presence("filter_feeder", 4, last=DAY - timedelta(days=1))
    foreseen = Presence("shrimplet", 9, expected=True)
    none_left = Presence("adult", 0)
    assert stage_meant(make_tank("a1", (), animals=(*here, gone, foreseen, none_left)), saw, DAY) == stage


def test_of_equally_severe_flags_the_newest_come_first(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    for ago in (4, 2, 3):
        for tank in ("a1", "b2"):
            session.saw(Sighting(tank, "dead", "adult", 2, True), day=DAY - timedelta(days=ago))
    order = [(RANK[flag.severity], (DAY - flag.day).days) for flag in session.flags()]

    assert order == sorted(order)
    assert any(len({ago for rank, ago in order if rank == each}) > 1 for each in RANK.values())
    session.ledger.close()
