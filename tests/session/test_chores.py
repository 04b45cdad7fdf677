"""Acts about chores in a session: what they come to, and how they are taken back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from schedules.ledger import ChoreMark, LedgerFault
from schedules.room.chores import ChorePlace
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
