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
from schedules.review.flags.evidence import Given
from schedules.room import Room
from schedules.room_file import load_room
from schedules.round import Stop, as_served
from schedules.session.session import Session

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
def session(room: Room, ledger: Counting) -> Session:
    return Session(room, ledger, lambda: MORNING, "Ana")


def invented(session: Session, tanks: Sequence[str]) -> dict[str, tuple[Flag, ...]]:
    """A flag for each tank that no ledger has a reason for, so that it shows who was believed."""
    return {tank: (Flag("leftovers", "low", tank, None, session.day, Given(()), "take_out"),) for tank in tanks}


def here(stop: Stop) -> str:
    assert stop.tank is not None
    return stop.tank


def write_elsewhere(session: Session, what: What) -> None:
    session.ledger.append([what], day=session.day, at=MORNING, by="Ben")


def test_flags_worked_out_beside_the_round_hold_after_a_mark_elsewhere_in_the_room(session: Session) -> None:
    before, (marked, other, *_) = session.history, session.sheet.stops
    session.finish(marked)
    session.know_flags(session.room, before, invented(session, [here(marked), here(other)]))

    assert session.flags_of(here(other)) == invented(session, [here(other)])[here(other)]
    assert session.flags_of(here(marked)) == flags(session.room.only(here(marked)), session.history, MORNING)


def test_flags_of_a_tank_hold_until_what_somebody_else_wrote_of_it_is_taken_in(session: Session) -> None:
    before, stop = session.history, session.sheet.stops[0]
    write_elsewhere(session, as_served(stop.servings[0].due))
    session.know_flags(session.room, before, invented(session, [here(stop)]))

    assert session.flags_of(here(stop)) == invented(session, [here(stop)])[here(stop)]

    session.catch_up()

    assert session.flags_of(here(stop)) != invented(session, [here(stop)])[here(stop)]


def test_flags_of_a_tank_whose_mark_was_taken_back_are_not_taken_over(session: Session) -> None:
    stop = session.sheet.stops[0]
    session.finish(stop)
    before = session.history
    session.undo()
    session.know_flags(session.room, before, invented(session, [here(stop)]))

    assert session.flags_of(here(stop)) != invented(session, [here(stop)])[here(stop)]


def test_flags_of_the_room_as_it_was_before_its_file_changed_are_not_taken_over(session: Session, room: Room) -> None:
    before, stop = session.history, session.sheet.stops[0]
    session.take_room(replace(room, name="another name"))
    session.know_flags(room, before, invented(session, [here(stop)]))

    assert session.flags_of(here(stop)) != invented(session, [here(stop)])[here(stop)]


def test_flags_of_yesterday_are_not_taken_over(room: Room, ledger: Counting) -> None:
    yesterday = Session(room, ledger, lambda: MORNING - timedelta(days=1), "Ana")
    session = Session(room, ledger, lambda: MORNING, "Ana")
    stop = session.sheet.stops[0]
    session.know_flags(room, yesterday.history, invented(session, [here(stop)]))

    assert session.flags_of(here(stop)) != invented(session, [here(stop)])[here(stop)]


def test_postings_read_beforehand_are_not_read_again_to_tell_the_missed(room: Room, ledger: Counting) -> None:
    Session(room, ledger, lambda: MORNING - timedelta(days=2), "Ana")
    Session(room, ledger, lambda: MORNING - timedelta(days=1), "Ana")
    session = Session(room, ledger, lambda: MORNING, "Ana")
    since = session.day - timedelta(days=3)
    found = session.missed(since)
    fresh = Session(room, ledger, lambda: MORNING, "Ana")
    fresh.know_postings(fresh.history, since, ledger.postings(since, fresh.day))
    read = ledger.read_whole

    assert found
    assert fresh.missed(since) == found
    assert ledger.read_whole == read

    fresh.finish(fresh.sheet.stops[0])
    fresh.missed(since)

    assert ledger.read_whole == read


def test_after_a_new_posting_or_from_another_day_on_postings_are_read_anew(room: Room, ledger: Counting) -> None:
    session = Session(room, ledger, lambda: MORNING, "Ana")
    since = session.day - timedelta(days=3)
    session.missed(since)
    read = ledger.read_whole
    session.missed(since - timedelta(days=1))

    assert ledger.read_whole == read + 1

    ledger.append([Posting(session.day + timedelta(days=1), ((),))], day=session.day, at=MORNING, by=None)
    session.catch_up()
    read = ledger.read_whole
    session.missed(since - timedelta(days=1))

    assert ledger.read_whole == read + 1
