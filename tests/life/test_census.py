"""A census saves reading, and changes nothing of what is known."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.history.life import Life, life_of, reading, room_as_of
from schedules.history.life.census import state_of, text_of
from schedules.history.life.fold import LifeFold
from schedules.history.life.reading import KNOWN_DAYS, sum_up
from schedules.ledger import Entry, Ledger, Sighting, Undone
from schedules.ledger.entries.animals.census import Census
from schedules.ledger.stores.memory import MemoryLedger
from schedules.room import Presence, Room
from tests.ledger.builders import MORNING
from tests.life.rooms import DAY, TANKS, pasts, room_of, rooms, sighting, who

TODAY = DAY + timedelta(days=150)


@pytest.fixture(autouse=True)
def _made_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A census is made as soon as there is anything to sum up."""
    monkeypatch.setattr(reading, "ENOUGH", 1)


def written(past: tuple[Entry, ...]) -> MemoryLedger:
    ledger = MemoryLedger()
    for entry in past:
        ledger.append([entry.what], day=entry.day, at=entry.at, by=entry.by)
    return ledger


def censuses(ledger: Ledger) -> list[Entry]:
    return [entry for entry in ledger.everything() if isinstance(entry.what, Census)]


def known(life: Life, room: Room) -> list[object]:
    """All that is known of the days that are known day by day, and of those to come."""
    lived = room_as_of(room, life, TODAY)
    days = [TODAY + timedelta(days=days) for days in (1 - KNOWN_DAYS, -10, 0, 1, 40, 90, 200)]
    there = [who(lived.tanks[tank], day) for day in days for tank in TANKS]
    return [there, life.broods, life.arrived]


@given(rooms, pasts)
def test_what_is_known_with_a_census_is_what_is_known_without(room: Room, past: tuple[Entry, ...]) -> None:
    plain, summed = written(past), written(past)
    for days in (60, 100, 150):
        sum_up(summed, room, DAY + timedelta(days=days), MORNING)
    assert known(life_of(summed, room, TODAY), room) == known(life_of(plain, room, TODAY), room)


@given(rooms, pasts, st.data())
def test_neither_a_late_entry_nor_a_late_undo_is_lost(room: Room, past: tuple[Entry, ...], data: st.DataObject) -> None:
    plain, summed = written(past), written(past)
    sum_up(summed, room, TODAY, MORNING)
    late = [sighting("dead", data.draw(st.integers(1, 9))), sighting("added", 5)]
    for ledger in (plain, summed):
        ledger.append(late[:1], day=DAY + timedelta(days=3), at=MORNING, by="Ana")
        ledger.append(late[1:], day=TODAY, at=MORNING, by="Ana")
    if past:
        act = data.draw(st.sampled_from(past)).act
        for ledger in (plain, summed):
            ledger.append([Undone(act)], day=TODAY, at=MORNING, by="Ben")
    assert known(life_of(summed, room, TODAY), room) == known(life_of(plain, room, TODAY), room)


@given(rooms, pasts)
def test_a_state_comes_back_from_its_text(room: Room, past: tuple[Entry, ...]) -> None:
    fold = LifeFold(room)
    fold.take_in(past)
    assert state_of(text_of(fold.state())) == fold.state()


def counted(heads: int, days: int) -> MemoryLedger:
    ledger = MemoryLedger()
    ledger.append([sighting("count", heads)], day=DAY + timedelta(days=days), at=MORNING, by="Ana")
    return ledger


def test_a_room_file_with_other_animals_is_begun_with_and_not_the_census() -> None:
    room, edited = room_of(Presence("adult", 40)), room_of(Presence("adult", 40), Presence("juvenile", 7))
    ledger = counted(35, 5)
    sum_up(ledger, room, TODAY, MORNING)
    lived = room_as_of(edited, life_of(ledger, edited, TODAY), TODAY)
    assert (lived.tanks["a1"].count("juvenile", TODAY), lived.tanks["a1"].count("adult", TODAY)) == (7, 35)


def test_only_what_came_after_a_census_is_read() -> None:
    class Counting(MemoryLedger):
        asked: list[date | None]

        def of_kind(self, kind: str, after: date | None = None) -> tuple[Entry, ...]:
            self.asked.append(after)
            return super().of_kind(kind, after)

    ledger, room = Counting(), room_of(Presence("adult", 40))
    ledger.asked = []
    for days in range(100):
        ledger.append([sighting("dead")], day=DAY + timedelta(days=days), at=MORNING, by="Ana")
    sum_up(ledger, room, TODAY, MORNING)
    life_of(ledger, room, TODAY)
    assert ledger.asked == [None, TODAY - timedelta(days=KNOWN_DAYS)]


def test_nothing_is_summed_up_where_little_was_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "ENOUGH", 2)
    ledger, room = counted(35, 5), room_of(Presence("adult", 40))
    sum_up(ledger, room, TODAY, MORNING)
    assert censuses(ledger) == []
    ledger.append([sighting("dead")], day=DAY, at=MORNING, by="Ana")
    sum_up(ledger, room, TODAY, MORNING)
    sum_up(ledger, room, TODAY, MORNING)
    (made,) = censuses(ledger)
    assert (made.day, made.by) == (TODAY - timedelta(days=KNOWN_DAYS), None)


def test_a_census_is_no_act_that_can_be_taken_back() -> None:
    ledger, room = counted(35, 5), room_of(Presence("adult", 40))
    sum_up(ledger, room, TODAY, MORNING)
    assert isinstance(ledger.last_act()[0].what, Sighting)


def test_a_census_that_cannot_be_read_is_as_none() -> None:
    ledger, room = counted(35, 5), room_of(Presence("adult", 40))
    sum_up(ledger, room, TODAY, MORNING)
    (made,) = censuses(ledger)
    assert isinstance(made.what, Census)
    for text in ("", "%", "AAAA", text_of(LifeFold(room).state())[:-8]):
        ledger.append([replace(made.what, state=text)], day=made.day, at=MORNING, by=None)
        lived = room_as_of(room, life_of(ledger, room, TODAY), TODAY)
        assert lived.tanks["a1"].count("adult", TODAY) == 35
