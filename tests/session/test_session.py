"""The session: what an act comes to, and that no mark is lost when the ledger fails."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from demo_racks import room_path
from schedules.ledger import Served, Skipped
from schedules.room import Room
from schedules.room_file import load_room
from schedules.round import Stop
from schedules.session.missed_rows import missed_rows
from schedules.session.session import Session
from schedules.wording.outcomes import outcome_text
from tests.session.conftest import Moody

MORNING = datetime(2026, 11, 25, 6, 30, tzinfo=UTC)


@pytest.fixture(scope="module")
def room() -> Room:
    return load_room(room_path("first_rack"))


@pytest.fixture
def ledger() -> Moody:
    return Moody()


@pytest.fixture
def session(room: Room, ledger: Moody) -> Session:
    return Session(room, ledger, lambda: MORNING, "Ana", posts="today")


def _open(session: Session) -> Stop:
    number = session.sheet.next_open()
    assert number is not None
    return session.sheet.stops[number]


def _marks(ledger: Moody) -> list[Served | Skipped]:
    return [entry.what for entry in ledger.everything() if isinstance(entry.what, Served | Skipped)]


def test_a_finished_stop_is_in_the_ledger_when_the_act_returns(session: Session, ledger: Moody) -> None:
    stop = _open(session)
    told = session.finish(stop)

    assert told.done
    assert {mark.feed for mark in _marks(ledger)} == {serving.due.feed for serving in stop.servings}


def test_a_mark_that_the_ledger_would_not_take_is_kept_and_written_later(session: Session, ledger: Moody) -> None:
    stop = _open(session)
    ledger.locked = True
    told = session.finish(stop)

    assert told.kept
    assert outcome_text(session.room, told).startswith("NOT SAVED YET")
    assert not session.is_open(stop)
    assert _marks(ledger) == []

    ledger.locked = False
    saved = session.save_again()

    assert saved is not None
    assert saved.done
    assert not session.unsaved
    assert len(_marks(ledger)) == len(stop.servings)


def test_a_stop_with_unsaved_marks_is_not_marked_twice(session: Session, ledger: Moody) -> None:
    stop = _open(session)
    ledger.locked = True
    session.finish(stop)

    assert not session.finish(stop).done
    assert len(session.unsaved) == 1


def test_acts_behind_an_unsaved_one_wait_in_their_order(session: Session, ledger: Moody) -> None:
    stop = _open(session)
    ledger.locked = True
    session.finish(stop)
    ledger.locked = False

    assert session.note(stop.tank, "calm").kept

    session.save_again()

    assert [type(entry.what).__name__ for entry in ledger.everything()][-1] == "Noted"
    assert len(_marks(ledger)) == len(stop.servings)


def test_what_somebody_else_marked_meanwhile_is_not_written_again(session: Session, ledger: Moody, room: Room) -> None:
    stop = _open(session)
    ledger.locked = True
    session.finish(stop)
    ledger.locked = False
    Session(room, ledger, lambda: MORNING, "Ben", posts="today").finish(stop)
    saved = session.save_again()

    assert saved is not None
    assert len(saved.beaten) == 1
    assert saved.beaten[0].whole
    assert f"somebody else had already marked: {stop.tank}" in outcome_text(room, saved)
    assert "(Ben at 00:30)" in outcome_text(room, saved)
    assert len(_marks(ledger)) == len(stop.servings)


def test_undo_takes_back_an_unsaved_mark_first(session: Session, ledger: Moody) -> None:
    stop = _open(session)
    ledger.locked = True
    session.finish(stop)
    told = session.undo()

    assert told.done
    assert session.is_open(stop)
    assert not session.unsaved


def test_a_round_of_which_nothing_was_marked_is_one_line_and_let_go_as_one(room: Room, ledger: Moody) -> None:
    Session(room, ledger, lambda: MORNING, "Ana", posts="today")
    tomorrow = Session(room, ledger, lambda: MORNING + timedelta(days=1), "Ana", posts="today")
    found = tomorrow.missed(tomorrow.day - timedelta(days=3))
    (row,) = missed_rows(room, tomorrow.history, found, frozenset())

    assert row.whole
    assert len(row.gaps) == len(found) > 1

    told = tomorrow.let_go(row.day, row.gaps, "nobody was there")

    assert told.done
    assert tomorrow.missed(tomorrow.day - timedelta(days=3)) == ()
    assert all(entry.day == row.day for entry in ledger.everything() if isinstance(entry.what, Skipped))

    assert tomorrow.undo().done
    assert len(tomorrow.missed(tomorrow.day - timedelta(days=3))) == len(found)


def test_an_opened_round_shows_its_servings_below_it(room: Room, ledger: Moody) -> None:
    Session(room, ledger, lambda: MORNING, "Ana", posts="today")
    tomorrow = Session(room, ledger, lambda: MORNING + timedelta(days=1), "Ana", posts="today")
    found = tomorrow.missed(tomorrow.day - timedelta(days=3))
    rows = missed_rows(room, tomorrow.history, found, {(found[0].day, found[0].due.round)})

    assert [row.whole for row in rows] == [True, *(False for _ in found)]
