"""What is worked out or read beside the round is taken over where it still holds, and only there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from demo_racks import room_path
from schedules.ledger import Posting, What
from schedules.ledger.stores.memory import MemoryLedger
from schedules.review.flags import Flag, flags
from schedules.room import Room
from schedules.room_file import load_room
from schedules.round import as_served
from schedules.session.session import Desk

MORNING = datetime(2026, 11, 25, 6, 30, tzinfo=UTC)


class Counting(MemoryLedger):
    """A ledger that counts how often whole postings are read."""

    read_whole = 0

    def postings(self, first: date, last: date) -> tuple[Posting, ...]:
        self.read_whole += 1
        return super().postings(first, last)


@pytest.fixture(scope="module")
def room() -> Room:
    return load_room(room_path("first_rack"))


@pytest.fixture
def ledger() -> Counting:
    return Counting()


@pytest.fixture
def desk(room: Room, ledger: Counting) -> Desk:
    return Desk(room, ledger, lambda: MORNING, "Ana")


def invented(desk: Desk, tanks: Sequence[str]) -> dict[str, tuple[Flag, ...]]:
    """A flag for each tank that no ledger has a reason for, so that it shows who was believed."""
    return {tank: (Flag("leftovers", "low", tank, None, desk.day, "invented", "nothing"),) for tank in tanks}


def write_elsewhere(desk: Desk, what: What) -> None:
    desk.ledger.append([what], day=desk.day, at=MORNING, by="Ben")


def test_flags_worked_out_beside_the_round_hold_after_a_mark_elsewhere_in_the_room(desk: Desk) -> None:
    before, (marked, other, *_) = desk.history, desk.sheet.stops
    desk.finish(marked)
    desk.know_flags(desk.room, before, invented(desk, [marked.tank, other.tank]))

    assert desk.flags_of(other.tank) == invented(desk, [other.tank])[other.tank]
    assert desk.flags_of(marked.tank) == flags(desk.room.only(marked.tank), desk.history, MORNING)


def test_flags_of_a_tank_hold_until_what_somebody_else_wrote_of_it_is_taken_in(desk: Desk) -> None:
    before, stop = desk.history, desk.sheet.stops[0]
    write_elsewhere(desk, as_served(stop.servings[0].due))
    desk.know_flags(desk.room, before, invented(desk, [stop.tank]))

    assert desk.flags_of(stop.tank) == invented(desk, [stop.tank])[stop.tank]

    desk.catch_up()

    assert desk.flags_of(stop.tank) != invented(desk, [stop.tank])[stop.tank]


def test_flags_of_a_tank_whose_mark_was_taken_back_are_not_taken_over(desk: Desk) -> None:
    stop = desk.sheet.stops[0]
    desk.finish(stop)
    before = desk.history
    desk.undo()
    desk.know_flags(desk.room, before, invented(desk, [stop.tank]))

    assert desk.flags_of(stop.tank) != invented(desk, [stop.tank])[stop.tank]


def test_flags_of_the_room_as_it_was_before_its_file_changed_are_not_taken_over(desk: Desk, room: Room) -> None:
    before, stop = desk.history, desk.sheet.stops[0]
    desk.take_room(replace(room, name="another name"))
    desk.know_flags(room, before, invented(desk, [stop.tank]))

    assert desk.flags_of(stop.tank) != invented(desk, [stop.tank])[stop.tank]


def test_flags_of_yesterday_are_not_taken_over(room: Room, ledger: Counting) -> None:
    yesterday = Desk(room, ledger, lambda: MORNING - timedelta(days=1), "Ana")
    desk = Desk(room, ledger, lambda: MORNING, "Ana")
    stop = desk.sheet.stops[0]
    desk.know_flags(room, yesterday.history, invented(desk, [stop.tank]))

    assert desk.flags_of(stop.tank) != invented(desk, [stop.tank])[stop.tank]


def test_postings_read_beforehand_are_not_read_again_to_tell_the_missed(room: Room, ledger: Counting) -> None:
    Desk(room, ledger, lambda: MORNING - timedelta(days=2), "Ana")
    Desk(room, ledger, lambda: MORNING - timedelta(days=1), "Ana")
    desk = Desk(room, ledger, lambda: MORNING, "Ana")
    since = desk.day - timedelta(days=3)
    found = desk.missed(since)
    fresh = Desk(room, ledger, lambda: MORNING, "Ana")
    fresh.know_postings(fresh.history, since, ledger.postings(since, fresh.day))
    read = ledger.read_whole

    assert found
    assert fresh.missed(since) == found
    assert ledger.read_whole == read

    fresh.finish(fresh.sheet.stops[0])
    fresh.missed(since)

    assert ledger.read_whole == read


def test_after_a_new_posting_or_from_another_day_on_postings_are_read_anew(room: Room, ledger: Counting) -> None:
    desk = Desk(room, ledger, lambda: MORNING, "Ana")
    since = desk.day - timedelta(days=3)
    desk.missed(since)
    read = ledger.read_whole
    desk.missed(since - timedelta(days=1))

    assert ledger.read_whole == read + 1

    ledger.append([Posting(desk.day + timedelta(days=1), ((),))], day=desk.day, at=MORNING, by=None)
    desk.catch_up()
    read = ledger.read_whole
    desk.missed(since - timedelta(days=1))

    assert ledger.read_whole == read + 1
