"""What speaks against a sighting: each doubt with what it says, and the day or head from which it is raised."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from schedules.history.life import Life
from schedules.ledger import Saw, Sighting
from schedules.room import Presence, Room
from schedules.room.kinds import Stage
from schedules.session.doubts.animals import Doubt, Isolation, doubt_about, heads_that_could_be, isolation_of
from tests.life.rooms import DAY, entries, folded, room_of, sighting

ADULTS = room_of(Presence("adult", 8))
LEAVING: tuple[Saw, ...] = ("dead", "moved", "sold", "culled")


def nobody_seen(room: Room) -> Life:
    return folded(room, ())


def ago(days: int) -> date:
    return DAY - timedelta(days=days)


def quarantined(*animals: Presence, days: int | None = 28) -> Room:
    """The room with its first tank in quarantine for so many days."""
    room = room_of(*animals)
    return replace(room, tanks={**room.tanks, "a1": replace(room.tanks["a1"], quarantine=True, quarantine_days=days)})


def doubted(room: Room, what: Sighting, day: date = DAY, today: date = DAY) -> Doubt | None:
    return doubt_about(room, nobody_seen(room), today, day, what)


def test_a_day_to_come_is_questioned_and_today_is_not() -> None:
    what, tomorrow = sighting("count", 3), DAY + timedelta(days=1)
    assert doubted(ADULTS, what, tomorrow) == Doubt("future", what, tomorrow)
    assert doubted(ADULTS, what, tomorrow, tomorrow) is None
    assert doubted(ADULTS, what) is None


@pytest.mark.parametrize("saw", LEAVING)
def test_more_that_leave_than_are_there_are_questioned_with_how_many_are_there(saw: Saw) -> None:
    assert doubted(ADULTS, sighting(saw, 8)) is None
    assert doubted(ADULTS, sighting(saw, 9)) == Doubt("more_than_there", sighting(saw, 9), DAY, there=8)


def test_of_a_class_only_its_least_counts() -> None:
    # About 10 are 6 at least (`schedules/room/heads.py`).
    what = sighting("sold", 10, exact=False)
    assert doubted(room_of(Presence("adult", 6)), what) is None
    assert doubted(room_of(Presence("adult", 5)), what) == Doubt("more_than_there", what, DAY, there=5)


@pytest.mark.parametrize("saw", ["hatch", "count", "added", "berried"])
def test_what_only_comes_or_is_counted_may_be_more_than_is_there(saw: Saw) -> None:
    assert doubted(ADULTS, sighting(saw, 500)) is None


def test_moving_out_of_quarantine_is_questioned_until_its_last_day() -> None:
    room = quarantined(Presence("adult", 8, first=ago(20)))
    what, until = sighting("moved", 2), DAY + timedelta(days=8)
    later = until - timedelta(days=1)
    assert doubted(room, what) == Doubt("quarantine", what, DAY, arrived=ago(20), until=until)
    assert doubted(room, what, later, later) == Doubt("quarantine", what, later, arrived=ago(20), until=until)
    assert doubted(room, what, until, until) is None


def test_a_quarantine_without_days_does_not_end_by_itself() -> None:
    room, what = quarantined(Presence("adult", 8, first=ago(400)), days=None), sighting("moved", 2)
    assert doubted(room, what) == Doubt("quarantine", what, DAY, arrived=ago(400), until=None)


def test_in_quarantine_a_death_or_a_sale_and_moves_out_of_other_tanks_are_not_questioned() -> None:
    room = quarantined(Presence("adult", 8, first=ago(1)))
    assert doubted(room, sighting("dead", 2)) is None
    assert doubted(room, sighting("sold", 2)) is None
    other = room_of(Presence("adult", 8), others=(Presence("adult", 8),))
    assert doubted(other, sighting("moved", 2, tank="b2", to="a1")) is None


def test_a_move_out_of_quarantine_that_is_over_is_still_checked_for_its_heads() -> None:
    room, what = quarantined(Presence("adult", 8, first=ago(28))), sighting("moved", 9)
    assert doubted(room, what) == Doubt("more_than_there", what, DAY, there=8)


@pytest.mark.parametrize(
    ("animals", "arrived"),
    [
        ((Presence("adult", 8, first=ago(20)), Presence("adult", 2, first=ago(6))), ago(6)),
        ((Presence("adult", 8, first=ago(20)), Presence("adult", 2, first=DAY)), DAY),
        ((Presence("adult", 8, first=ago(20)), Presence("adult", 2, first=DAY + timedelta(days=1))), ago(20)),
        ((Presence("adult", 8, first=ago(20)), Presence("shrimplet", 9, first=ago(3), hatched=ago(3))), ago(20)),
        ((Presence("adult", 8, first=ago(20)), Presence("adult", 2, first=ago(3), goes_on=True)), ago(20)),
        ((Presence("adult", 8),), None),
    ],
)
def test_a_quarantine_counts_from_those_that_came_in_from_elsewhere_until_that_day(
    animals: tuple[Presence, ...], arrived: date | None
) -> None:
    room = quarantined(*animals)
    until = None if arrived is None else arrived + timedelta(days=28)
    assert isolation_of(room.tanks["a1"], nobody_seen(room), DAY) == Isolation(28, arrived, until, False)


def test_animals_moved_in_start_a_quarantine_again() -> None:
    room = quarantined(Presence("adult", 8, first=ago(20)))
    life = folded(room, entries((-5, sighting("moved", 2, tank="b2", to="a1"))))
    assert isolation_of(room.tanks["a1"], life, DAY).arrived == ago(5)
    assert isolation_of(room.tanks["b2"], life, DAY).arrived is None


@pytest.mark.parametrize(
    ("stage", "hatched", "heads"),
    [
        # Young can be juveniles from 48 days on and adults from 60: the fast bound in `schedules/history/life/ages.py`.
        ("juvenile", ago(47), 4),
        ("juvenile", ago(48), 34),
        ("adult", ago(59), 8),
        ("adult", ago(60), 38),
        ("shrimplet", ago(60), 30),
    ],
)
def test_young_that_may_have_grown_up_count_at_both_stages(stage: Stage, hatched: date, heads: int) -> None:
    young = Presence("shrimplet", 30, first=hatched, hatched=hatched)
    tank = room_of(Presence("adult", 8), Presence("juvenile", 4), young).tanks["a1"]
    assert heads_that_could_be(tank, stage, DAY) == heads


def test_those_that_are_only_expected_or_not_there_on_the_day_do_not_count() -> None:
    expected = Presence("shrimplet", 30, first=ago(1), hatched=ago(1), expected=True)
    gone = Presence("shrimplet", 20, last=ago(1))
    tank = room_of(expected, gone, Presence("shrimplet", 7, last=DAY)).tanks["a1"]
    assert heads_that_could_be(tank, "shrimplet", DAY) == 7
