"""Marks that the ledger would not take outlast the program: none is lost, none is made twice, none goes elsewhere."""

from __future__ import annotations

import json
import stat
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from demo_racks import room_path
from schedules.ledger import Noted, Served
from schedules.ledger.stores.opening import open_at
from schedules.room import Room
from schedules.room.place import Place
from schedules.room_file import load_room
from schedules.session.kept_acts import KeptActs
from schedules.session.session import Session
from schedules.session.unsaved import Act, Unsaved
from schedules.wording.outcomes import outcome_text
from tests.ledger.builders import DAY, DAYS, ENTRIES, MORNING, write
from tests.ledger.places import STORES, places, shared_server
from tests.ledger.proxy import Proxy, proxy_before
from tests.ledger.test_line import PATIENCE

NOW = datetime(2026, 11, 25, 14, tzinfo=UTC)
ACTS = st.builds(
    Act,
    st.sampled_from(("finish", "note", "saw")),
    st.lists(ENTRIES, min_size=1, max_size=3).map(tuple),
    DAYS,
    st.datetimes(timezones=st.just(UTC)),
    st.text(st.characters(exclude_categories=["Cs"]), max_size=9),
    since=st.none() | st.integers(0, 10**9),
)


def act(text: str, minute: int = 0) -> Act:
    return Act("note", (Noted("a1", text),), DAY, MORNING.replace(minute=minute), "Ana")


@settings(max_examples=40, deadline=None)
@given(acts=st.lists(ACTS, max_size=4, unique_by=lambda act: (act.at, act.by, str(act.what))))
def test_acts_come_back_from_the_file_as_they_were(tmp_path_factory: pytest.TempPathFactory, acts: list[Act]) -> None:
    folder = tmp_path_factory.mktemp("state") / "rackround"
    with closing(KeptActs(folder, "one")) as kept:
        assert kept.keep(acts)
    with closing(KeptActs(folder, "one")) as kept:
        acts.sort(key=lambda act: act.at)
        assert list(kept.acts) == acts
        assert [act.since for act in kept.acts] == [act.since for act in acts]


def test_the_file_is_for_its_owner_only_and_goes_when_nothing_waits(tmp_path: Path) -> None:
    folder = tmp_path / "state" / "rackround"
    with closing(KeptActs(folder, "one")) as kept:
        kept.keep([act("calm")])
        assert {stat.S_IMODE(file.stat().st_mode) for file in folder.iterdir()} == {0o600}
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700
        kept.keep([])
    assert list(folder.glob("*.json")) == []


def test_a_folder_that_others_can_open_keeps_nothing(tmp_path: Path) -> None:
    folder = tmp_path / "open"
    folder.mkdir()
    folder.chmod(0o777)
    with closing(KeptActs(folder, "one")) as kept:
        assert not kept.keep([act("calm")])
    assert list(folder.iterdir()) == []


def test_acts_are_never_taken_over_for_another_ledger(tmp_path: Path) -> None:
    with closing(KeptActs(tmp_path / "state", "one")) as kept:
        kept.keep([act("calm")])
    (file,) = (tmp_path / "state").glob("*.json")
    with closing(KeptActs(tmp_path / "state", "other")) as other:
        assert other.acts == ()
    file.write_text(file.read_text().replace('"ledger":"one"', '"ledger":"other"'))
    with closing(KeptActs(tmp_path / "state", "one")) as kept:
        assert kept.acts == ()


def test_two_programs_keep_their_own_and_the_next_takes_over_both_in_order(tmp_path: Path) -> None:
    first, second = KeptActs(tmp_path / "state", "one"), KeptActs(tmp_path / "state", "one")
    second.keep([act("later", 2)])
    first.keep([act("sooner", 1), act("latest", 3)])
    second.close()
    first.close()
    with closing(KeptActs(tmp_path / "state", "one")) as kept:
        assert [each.what for each in kept.acts] == [
            act(text, minute).what for text, minute in (("sooner", 1), ("later", 2), ("latest", 3))
        ]
        assert len(list((tmp_path / "state").glob("*.json"))) == 1


@pytest.mark.parametrize(
    "damage", ["", "{", "[]", '{"format":"rackround-unsaved/1","ledger":"one","acts":[{}]}', "\x00"]
)
def test_a_damaged_file_is_nothing_that_waits(tmp_path: Path, damage: str) -> None:
    with closing(KeptActs(tmp_path / "state", "one")) as kept:
        kept.keep([act("calm")])
    (file,) = (tmp_path / "state").glob("*.json")
    file.write_text(damage)
    with closing(KeptActs(tmp_path / "state", "one")) as kept:
        assert kept.acts == ()
        assert kept.keep([act("next")])


def test_an_act_that_was_tried_says_what_was_known_then(tmp_path: Path) -> None:
    with closing(KeptActs(tmp_path / "state", "one")) as kept:
        kept.keep([act("calm")])
        (file,) = (tmp_path / "state").glob("*.json")
        assert json.loads(file.read_text())["acts"][0]["since"] is None


# A session whose line is cut


@pytest.fixture
def room() -> Room:
    return load_room(room_path("first_rack"))


@pytest.fixture
def proxy() -> Iterator[Proxy]:
    with shared_server().lent() as server, proxy_before(server) as proxy:
        yield proxy


def opened(room: Room, place: Place, folder: Path, by: str = "Ana") -> Session:
    return Session(room, open_at(place, patience=PATIENCE), lambda: NOW, by, posts="today", keep_in=folder)


def closed(session: Session) -> None:
    session.unsaved.close()
    session.ledger.close()


def test_marks_made_without_a_line_are_there_once_after_the_program_was_closed_and_opened_again(
    room: Room, proxy: Proxy, tmp_path: Path
) -> None:
    session = opened(room, proxy.server, tmp_path / "state")
    mine, others = [stop for stop in session.sheet.stops if session.is_open(stop)][:2]
    proxy.at_commit, proxy.lets_in = "after", False
    assert session.note(mine.tank, "calm").kept, "saved by the server, and nobody knows"
    assert session.finish(mine).kept
    assert session.finish(others).kept
    closed(session)

    proxy.lets_in = True
    ben = opened(room, proxy.server, tmp_path / "bens", "Ben")
    ben.finish(others)
    closed(ben)

    again = opened(room, proxy.server, tmp_path / "state")
    assert len(again.unsaved) == 3
    saved = again.save_again()
    assert saved is not None
    text = outcome_text(room, saved)
    assert text.startswith(f"saved now: 2 of 3; somebody else had already marked: {others.tank}")
    assert "(Ben at" in text
    written = list(again.ledger.everything())
    assert [entry.what for entry in written if isinstance(entry.what, Noted)] == [Noted(mine.tank, "calm")]
    marks = [(entry.what.tank, entry.by) for entry in written if isinstance(entry.what, Served)]
    assert {by for tank, by in marks if tank == mine.tank} == {"Ana"}
    assert {by for tank, by in marks if tank == others.tank} == {"Ben"}
    assert list((tmp_path / "state").glob("*.json")) == []
    closed(again)


@pytest.mark.parametrize("store", STORES)
def test_of_an_act_only_what_somebody_else_made_is_left_out(store: str) -> None:
    with places(store) as another, closing(open_at(another())) as ledger:
        three = tuple(Served("a1", feed, "morning", 1.0, "spoon", 9.0, 0.1, True) for feed in ("moss", "leaf", "dust"))
        write(ledger, three[1], by="Ben")
        waiting = Unsaved()
        waiting.keep(Act("finish", three, DAY, MORNING, "Ana"))
        (beaten,) = waiting.write(ledger, 0)
        assert beaten.act.what == (three[1],)
        assert [winner.by for winner in beaten.winners] == ["Ben"]
        assert not beaten.whole
        assert [entry.what for entry in ledger.read(DAY, DAY) if entry.by == "Ana"] == [three[0], three[2]]
        assert not waiting
