"""Acts about chores in a session: what they come to, and how they are taken back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from schedules.ledger import ChoreMark, LedgerFault, Reason
from schedules.room.chores import ChorePlace
from schedules.room_file import load_room_text
from schedules.session.session import Session
from schedules.wording.outcomes import outcome_text
from tests.tui.rooms import CHORES, make_session, room_text

WALL = ChorePlace(rack="wall")


@pytest.fixture(name="session")
def _session(tmp_path: Path) -> Iterator[Session]:
    session = make_session(tmp_path, room_text(also=CHORES))
    yield session
    session.ledger.close()


def test_a_rack_s_chore_is_among_what_can_be_taken_back_at_that_rack(session: Session) -> None:
    session.did("dust_racks", WALL)
    (act,) = session.recent("wall")[:1]
    assert act.racks == {"wall"}

    session.take_back([act])
    assert [stop.chores[0].state for stop in session.sheet.stops if stop.rack == "wall"] == ["due"]


def test_a_chore_that_is_not_done_at_a_place_is_not_recorded(session: Session) -> None:
    outcome = session.did("top_off", ChorePlace(tank="a2"))

    assert (outcome.result, outcome.act) == ("not_here", None)
    assert outcome_text(session.room, outcome) == "a2: this chore is not done here"
    assert session.did("top_off", ChorePlace(rack="gone")).result == "not_here"


def test_a_chore_that_the_ledger_does_not_take_is_kept_and_no_longer_offered(
    session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object, **__: object) -> None:
        raise LedgerFault("the disk is full")

    with monkeypatch.context() as broken:
        broken.setattr(session.ledger, "append", fails)
        outcome = session.did("dust_racks", WALL)
    (stop,) = (each for each in session.sheet.stops if each.rack == "wall")
    assert outcome.kept
    assert not session.is_open(stop)

    session.save_again()
    assert session.ledger.last_act("Mara")[0].what == ChoreMark("dust_racks", rack="wall")


def test_what_another_keeper_did_is_seen_at_once_and_not_recorded_twice(session: Session) -> None:
    session.ledger.append([ChoreMark("swap_tools")], day=session.day, at=session.clock(), by="Ben")
    outcome = session.did("swap_tools", ChorePlace())

    assert outcome.result == "already_marked"
    assert session.sheet.stops[-1].chores[0].state == "done"


def test_a_stop_with_nothing_but_a_chore_is_open_until_it_is_finished(session: Session) -> None:
    (stop,) = (each for each in session.sheet.stops if each.rack == "wall")
    assert session.is_open(stop)
    session.finish(stop)

    assert session.ledger.last_act("Mara")[0].what == ChoreMark("dust_racks", rack="wall")
    (stop,) = (each for each in session.sheet.stops if each.rack == "wall")
    assert not session.is_open(stop)
    assert session.finish(stop).result == "nothing_due"


def test_chores_left_out_at_a_stop_are_written_with_the_keepers_reason(session: Session) -> None:
    (stop,) = (each for each in session.sheet.stops if each.rack == "wall")
    session.skip(None, (), "  no ladder\n", stop.chores)

    mark = session.ledger.last_act("Mara")[0].what
    assert mark == ChoreMark("dust_racks", rack="wall", because=Reason.other("no ladder"))
    (stop,) = (each for each in session.sheet.stops if each.rack == "wall")
    assert [each.state for each in stop.chores] == ["skipped"]


def test_what_was_due_is_said_with_its_turn_and_the_next_one(session: Session) -> None:
    stood = session.did("dust_racks", WALL, "no ladder").chore

    # The fourth Wednesdays of November and December 2026.
    assert stood is not None
    assert stood.turn is not None
    assert (stood.chore.id, stood.place, stood.state) == ("dust_racks", WALL, "due")
    assert (stood.turn.day, stood.next) == (date(2026, 11, 25), date(2026, 12, 23))
    assert session.ledger.last_act("Mara")[0].what == ChoreMark(
        "dust_racks", rack="wall", because=Reason.other("no ladder")
    )


def test_a_chore_done_before_it_is_due_is_written_for_its_day_and_its_next_turn_is_said(session: Session) -> None:
    outcome = session.did("dust_racks", WALL, day=date(2026, 11, 20))

    assert outcome.done
    assert [entry.day for entry in session.ledger.last_act("Mara")] == [date(2026, 11, 20)]
    assert outcome.chore is not None
    assert (outcome.chore.chore.id, outcome.chore.place, outcome.chore.turn) == ("dust_racks", WALL, None)
    assert (outcome.chore.on, outcome.chore.next) == (date(2026, 11, 20), date(2026, 11, 25))


def test_a_chore_without_a_calendar_that_is_not_due_has_no_next_turn(session: Session) -> None:
    text = '[[chores]]\nid = "drifted"\neach = "tank"\nname = "Change some water"\nwhen = "tds_drift"\n'
    room = load_room_text(room_text(also=text), "room.toml")
    later = Session(room, session.ledger, session.clock, "Mara", posts="nothing")
    stood = later.did("drifted", ChorePlace(tank="a1")).chore

    assert stood is not None
    assert (stood.turn, stood.next) == (None, None)
