"""Which chores are due where and since when: once for each turn, not again once done, again once that is undone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.chores import ChoreDue, due_at, late_chores, turns_due
from schedules.history import refresh
from schedules.ledger import Leftovers, Observed, Reading, Reason, WaterAdded
from schedules.room import Room
from schedules.room.chores import Chore, ChorePlace
from schedules.round.marks import chore_mark
from tests.chores.rooms import AT, WHOLE_ROOM, Marks, chore, day, room_with
from tests.chores.test_spreading import rooms

A1 = AT["a1"]
WEEKLY = chore("wipe", rule="FREQ=WEEKLY")
EVERY_THREE = chore("top_off", every=3)


def due(room: Room, marks: Marks, today: date, place: ChorePlace = A1) -> tuple[ChoreDue, ...]:
    return due_at(room, marks.history(today), today, today, place)


def only(room: Room, marks: Marks, today: date, place: ChorePlace = A1) -> ChoreDue:
    (found,) = due(room, marks, today, place)
    return found


@pytest.mark.parametrize("of", [WEEKLY, EVERY_THREE])
def test_done_today_is_not_due_today_and_undone_it_is_due_again(of: Chore) -> None:
    room, marks = room_with(of), Marks()
    assert only(room, marks, day(0)).state == "due"

    act = marks.did(of, A1, day(0))
    assert only(room, marks, day(0)).state == "done"
    assert due(room, marks, day(1)) == ()

    marks.undo(act, day(0))
    assert only(room, marks, day(0)).state == "due"
    assert only(room, marks, day(1)).state == "due"


def test_left_out_with_a_reason_settles_a_turn_as_well() -> None:
    room, marks = room_with(WEEKLY), Marks()
    marks.write(chore_mark(WEEKLY, A1, Reason.other("no time")), day(0))

    assert only(room, marks, day(0)).state == "skipped"
    assert due(room, marks, day(6)) == ()
    assert only(room, marks, day(7)).state == "due"


def test_a_chore_done_late_moves_the_next_turn_only_where_days_are_counted() -> None:
    room, marks = room_with(WEEKLY, EVERY_THREE), Marks()
    weekly, every = due(room, marks, day(2))
    assert (weekly.days_late, weekly.next) == (2, day(7))
    assert (every.days_late, every.next) == (2, day(5))

    marks.did(WEEKLY, A1, day(2))
    marks.did(EVERY_THREE, A1, day(2))
    assert [each.chore.id for each in due(room, marks, day(5))] == ["top_off"]
    assert [each.chore.id for each in due(room, marks, day(7))] == ["wipe", "top_off"]


def test_turns_that_went_by_are_counted_and_settled_by_one_mark() -> None:
    room, marks = room_with(WEEKLY), Marks()
    found = only(room, marks, day(16))
    assert found.turn is not None
    assert (found.turn.day, found.days_late, found.passed) == (day(0), 16, 2)

    marks.did(WEEKLY, A1, day(16))
    assert due(room, marks, day(20)) == ()
    assert only(room, marks, day(21)).passed == 0


def test_what_lies_further_back_than_the_history_still_counts() -> None:
    quarterly = chore("trim", every=90)
    room, marks = room_with(quarterly), Marks()
    marks.did(quarterly, A1, day(0))

    assert due(room, marks, day(89)) == ()
    assert only(room, marks, day(90)).state == "due"
    assert only(room, marks, day(95)).days_late == 5


def test_a_mark_of_a_day_before_the_history_is_taken_in_when_it_is_written_late() -> None:
    quarterly = chore("trim", every=90)
    room, marks = room_with(quarterly), Marks()
    before = marks.history(day(60))
    assert due_at(room, before, day(60), day(60), A1)[0].state == "due"
    act = marks.did(quarterly, A1, day(10))
    after = refresh(before, marks.ledger)
    assert due_at(room, after, day(60), day(60), A1) == ()

    marks.undo(act, day(60))
    assert due_at(room, refresh(after, marks.ledger), day(60), day(60), A1)[0].state == "due"


def test_a_chore_that_was_not_due_is_shown_as_done_and_moves_the_days_that_are_counted() -> None:
    room, marks = room_with(EVERY_THREE), Marks()
    marks.did(EVERY_THREE, A1, day(0))
    marks.did(EVERY_THREE, A1, day(1))

    assert only(room, marks, day(1)).turn is None
    assert due(room, marks, day(3)) == ()
    assert only(room, marks, day(4)).state == "due"


def test_what_was_open_on_a_past_day_was_missed_on_it_and_what_comes_is_due_on_its_day() -> None:
    room, marks = room_with(WEEKLY), Marks()
    history = marks.history(day(3))

    assert due_at(room, history, day(3), day(2), A1)[0].state == "missed"
    assert due_at(room, history, day(3), day(4), A1) == ()
    assert due_at(room, history, day(3), day(7), A1)[0].state == "due"


def test_one_place_says_nothing_of_another() -> None:
    racks = chore("lamps", ChorePlace(rack="left"), ChorePlace(rack="right"), rule="FREQ=WEEKLY", order="after")
    meters = chore("meters", WHOLE_ROOM, rule="FREQ=WEEKLY", order="before")
    room, marks = room_with(WEEKLY, racks, meters), Marks()
    marks.did(WEEKLY, AT["a2"], day(0))
    marks.did(racks, ChorePlace(rack="left"), day(0))

    states = {(each.chore.id, each.place): each.state for each in turns_due(room, marks.history(day(0)), day(0))}
    done = {key for key, state in states.items() if state == "done"}
    assert done == {("wipe", AT["a2"]), ("lamps", ChorePlace(rack="left"))}
    assert len(states) == 6 + 2 + 1


def test_leftovers_reported_twice_running_make_a_chore_due_until_it_is_done() -> None:
    look = chore("look", begins=None, condition="leftovers_twice")
    room, marks = room_with(look), Marks()
    looks: tuple[Leftovers, ...] = ("some", "none", "most")
    for number, left in enumerate(looks):
        marks.write(Observed("a1", "dust", left), day(number))
    assert due(room, marks, day(2)) == ()

    marks.write(Observed("a1", "dust", "some"), day(3))
    assert due(room, marks, day(3), AT["a2"]) == ()
    found = only(room, marks, day(5))
    assert found.turn is not None and found.turn.day == day(3)
    marks.did(look, A1, day(5))
    assert due(room, marks, day(6)) == ()
    marks.write(Observed("a1", "dust", "some"), day(7))
    assert only(room, marks, day(7)).state == "due"


def test_dissolved_solids_that_step_away_from_what_they_were_make_a_chore_due_in_that_tank() -> None:
    """Eight readings around 180 mg/L, then 230: more than the +15 % that count as a step."""
    look = chore("look", begins=None, condition="tds_drift")
    room, marks = room_with(look), Marks()
    for number, value in enumerate((180, 182, 179, 181, 180, 178, 181, 180)):
        for tank in ("a1", "a2"):
            marks.write(Reading(tank, "tds", float(value)), day(number))
    assert due(room, marks, day(8)) == ()

    marks.write(Reading("a1", "tds", 230.0), day(8))
    assert only(room, marks, day(8)).state == "due"
    assert due(room, marks, day(8), AT["a2"]) == ()
    marks.did(look, A1, day(9))
    assert due(room, marks, day(10)) == ()


def test_animals_that_came_in_make_a_chore_due_so_many_days_later() -> None:
    watch = chore("watch", begins=None, condition="after_move_in", days=14)
    room, marks = room_with(watch), Marks()
    arrived = replace(room.tanks["a1"], arrived=day(0))
    room = replace(room, tanks={**room.tanks, "a1": arrived})

    assert due(room, marks, day(13)) == ()
    assert only(room, marks, day(14)).state == "due"
    assert only(room, marks, day(80)).state == "due", "it waits, however long ago they came"
    marks.did(watch, A1, day(14))
    assert due(room, marks, day(15)) == ()


def test_reading_the_water_or_adding_some_does_the_chore_that_asks_for_it() -> None:
    read = chore("read", rule="FREQ=WEEKLY", done_by="reading")
    top_off = chore("top_off", every=3, done_by="water_added")
    room, marks = room_with(read, top_off), Marks()
    marks.write(Reading("a1", "tds", 180.0), day(0))
    assert [each.state for each in due(room, marks, day(0))] == ["done", "due"]

    added = marks.write(WaterAdded("a1", 1.5), day(1))
    assert [(each.chore.id, each.state) for each in due(room, marks, day(1))] == [("top_off", "done")]
    marks.undo(added, day(1))
    assert [(each.chore.id, each.state) for each in due(room, marks, day(1))] == [("top_off", "due")]


def test_late_chores_come_with_the_longest_wait_first() -> None:
    room, marks = room_with(chore("wipe", A1, rule="FREQ=WEEKLY", within=3), chore("top_off", A1, every=3)), Marks()

    assert [each.chore.id for each in late_chores(room, marks.history(day(2)), day(2))] == ["top_off"]
    assert [each.chore.id for each in late_chores(room, marks.history(day(6)), day(6))] == ["top_off", "wipe"]


@given(rooms(), st.data())
@settings(max_examples=40, deadline=None)
def test_walked_day_by_day_no_turn_is_due_twice(room: Room, data: st.DataObject) -> None:
    """By a keeper who does four of five."""
    marks, settled = Marks(), set[tuple[str, ChorePlace, date]]()
    for number in range(30):
        today = day(number)
        for each in turns_due(room, marks.history(today), today):
            assert each.state == "due" and each.turn is not None and each.turn.day <= today
            key = (each.chore.id, each.place, each.turn.day)
            assert key not in settled, "a turn that was settled is due again"
            if data.draw(st.integers(0, 4)):
                settled.add(key)
                marks.did(each.chore, each.place, today)
        assert all(each.state == "done" for each in turns_due(room, marks.history(today), today) if each.marked)


@given(rooms(), st.integers(0, 40))
@settings(max_examples=40, deadline=None)
def test_what_was_shown_yesterday_is_shown_today_unless_it_was_done(room: Room, number: int) -> None:
    history = Marks().history(day(number + 1))
    yesterday = {(each.chore.id, each.place) for each in turns_due(room, history, day(number))}

    assert yesterday <= {(each.chore.id, each.place) for each in turns_due(room, history, day(number + 1))}


def test_places_that_were_done_together_do_not_stay_together() -> None:
    """Six tanks, one a day; a keeper does all on one day. Two turns on they are spread again."""
    of = chore(every=5, within=6)
    room, marks = room_with(of), Marks()
    for place in AT.values():
        marks.did(of, place, day(5))
    days: dict[ChorePlace, list[int]] = {}
    for number in range(6, 40):
        for each in turns_due(room, marks.history(day(number)), day(number)):
            marks.did(of, each.place, day(number))
            days.setdefault(each.place, []).append(number)

    assert sorted(found[0] for found in days.values()) == [10, 11, 12, 13, 14, 15]
