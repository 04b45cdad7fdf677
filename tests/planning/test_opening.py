"""Opening a day: its plan is posted once, or today at once and the days after it when they are planned."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from schedules.history import history_of
from schedules.ledger import AlreadyMarked, Ledger, Posting, Served
from schedules.ledger.stores.memory import MemoryLedger
from schedules.ledger.stores.sqlite import open_ledger
from schedules.planning import checker, search
from schedules.planning.horizon import goes_on, is_posted
from schedules.planning.opening import open_day
from schedules.planning.problem.build import build_problem
from schedules.planning.problem.costs import cost
from schedules.planning.problem.json import plan_to_json
from schedules.planning.problem.types import Plan, Problem, Slot
from schedules.room import Room
from schedules.room.needs import clocks_of
from schedules.room_file import load_room_text
from schedules.round import finish_stop, round_sheet
from tests.ledger.builders import due
from tests.tui.rooms import NOW, TODAY, room_text


@pytest.fixture
def room() -> Room:
    return load_room_text(room_text(), "room.toml")


@pytest.fixture(params=["memory", "file"])
def ledger(request: pytest.FixtureRequest, tmp_path: Path) -> Ledger:
    return MemoryLedger() if request.param == "memory" else open_ledger(tmp_path / "room.ledger.db")


def the_posting(ledger: Ledger, today: date = TODAY) -> Posting:
    found = ledger.posting(today)
    assert found is not None
    return found


def faults_of(problem: Problem, slots: tuple[Slot, ...]) -> list[str]:
    return [str(fault) for fault in checker.check(plan_to_json(problem, Plan(slots, cost(problem, slots), None)))]


def pairs(posting: Posting, day: date) -> list[tuple[str, str]]:
    """Tank and feed of what a posting says of a day."""
    return [(each.tank, each.feed) for each in posting.due(day)]


def shortest_gap(room: Room, pair: tuple[str, str]) -> int:
    """The most days that a clock asks for between two servings of a feed in a tank."""
    clocks = clocks_of(room, room.tanks[pair[0]]).values()
    return max(clock.rules.min_gap for clock in clocks if pair[1] in clock.feeds)


def test_at_once_today_alone_is_posted_and_the_round_stands(room: Room, ledger: Ledger) -> None:
    history = open_day(room, ledger, NOW, at_once=True)
    assert is_posted(history, TODAY)
    assert not goes_on(history.posting(TODAY), TODAY)
    assert len(the_posting(ledger).days) == 1
    assert round_sheet(room, history, TODAY, TODAY, "morning").stops


def test_opened_again_the_day_gets_the_coming_days_and_today_stays_as_it_was(room: Room, ledger: Ledger) -> None:
    today = open_day(room, ledger, NOW, at_once=True).due(TODAY)
    history = open_day(room, ledger, NOW + timedelta(minutes=1))
    assert history.due(TODAY) == today
    assert goes_on(history.posting(TODAY), TODAY)
    assert len(the_posting(ledger).days) == 28
    assert len(ledger.postings(TODAY, TODAY + timedelta(days=5))) == 1


def test_today_and_the_coming_days_together_keep_every_rule(room: Room, ledger: Ledger) -> None:
    before = open_day(room, ledger, NOW, at_once=True)
    problem = build_problem(room, before, TODAY, 28)
    open_day(room, ledger, NOW)
    days = the_posting(ledger).days
    slots = tuple(sorted(Slot(number, due.tank, due.feed) for number, day in enumerate(days) for due in day))
    assert faults_of(problem, slots) == []


def test_so_they_do_on_the_morning_after_a_day_on_which_nothing_was_given(room: Room, ledger: Ledger) -> None:
    open_day(room, ledger, NOW)
    tomorrow, morning = TODAY + timedelta(days=1), NOW + timedelta(days=1)
    before = open_day(room, ledger, morning, at_once=True)
    problem = build_problem(room, before, tomorrow, 28)
    open_day(room, ledger, morning)
    days = the_posting(ledger, tomorrow).days
    slots = tuple(sorted(Slot(number, due.tank, due.feed) for number, day in enumerate(days) for due in day))
    assert faults_of(problem, slots) == []


def test_what_was_given_beyond_the_plan_meanwhile_is_not_due_again_before_its_gap(room: Room, ledger: Ledger) -> None:
    other = MemoryLedger()
    open_day(room, other, NOW, at_once=True)
    open_day(room, other, NOW)
    today, tomorrow = ({(each.tank, each.feed): each for each in day} for day in the_posting(other).days[:2])
    pair = min(pair for pair in tomorrow.keys() - today.keys() if shortest_gap(room, pair) > 1)
    open_day(room, ledger, NOW, at_once=True)
    extra = tomorrow[pair]
    what = Served(*pair, extra.round, extra.amount, extra.unit, extra.amount_mg, 0.1, planned=False, broke="ration")
    ledger.append([what], day=TODAY, at=NOW, by="Mara")
    open_day(room, ledger, NOW)
    assert pair not in {(each.tank, each.feed) for each in the_posting(ledger).days[1]}


def test_what_was_marked_meanwhile_counts_for_the_coming_days(room: Room, ledger: Ledger) -> None:
    history = open_day(room, ledger, NOW, at_once=True)
    for stop in round_sheet(room, history, TODAY, TODAY, "morning").stops:
        ledger.append(finish_stop(stop), day=TODAY, at=NOW, by="Mara")
    open_day(room, ledger, NOW)
    given = {(e.what.tank, e.what.feed) for e in history_of(ledger, TODAY).entries if isinstance(e.what, Served)}
    assert given
    tomorrow = {(each.tank, each.feed) for each in the_posting(ledger).days[1]}
    assert not {pair for pair in given & tomorrow if shortest_gap(room, pair) > 1}


def test_once_the_coming_days_are_there_nothing_more_is_posted_that_day(room: Room, ledger: Ledger) -> None:
    open_day(room, ledger, NOW, at_once=True)
    open_day(room, ledger, NOW)
    before = ledger.last_seq()
    open_day(room, ledger, NOW, at_once=True)
    open_day(room, ledger, NOW)
    assert ledger.last_seq() == before


def test_the_next_morning_today_stands_at_once_and_the_coming_days_are_carried_on(room: Room, ledger: Ledger) -> None:
    history = open_day(room, ledger, NOW)
    planned = the_posting(ledger)
    for walk in room.rounds:
        for stop in round_sheet(room, history, TODAY, TODAY, walk.id).stops:
            ledger.append(finish_stop(stop), day=TODAY, at=NOW, by="Mara")
    tomorrow, morning = TODAY + timedelta(days=1), NOW + timedelta(days=1)
    history = open_day(room, ledger, morning, at_once=True)
    assert is_posted(history, tomorrow)
    assert len(the_posting(ledger, tomorrow).days) == 1
    open_day(room, ledger, morning)
    carried = the_posting(ledger, tomorrow)
    assert len(carried.days) == 28
    week = [tomorrow + timedelta(days=number) for number in range(7)]
    assert [pairs(carried, day) for day in week] == [pairs(planned, day) for day in week]


def test_a_posting_is_continued_only_by_one_that_says_the_same_of_its_days(ledger: Ledger) -> None:
    def post(*days: str) -> None:
        what = Posting(TODAY, tuple((due(tank),) for tank in days))
        ledger.append([what], day=TODAY, at=datetime(2026, 11, 25, 7, tzinfo=UTC), by=None)

    post("t1")
    for other in (("t1",), ("t2",), ("t2", "t1"), ()):
        with pytest.raises(AlreadyMarked):
            post(*other)
    post("t1", "t2")
    post("t1", "t2", "t3")
    with pytest.raises(AlreadyMarked) as first:
        post("t1", "t2")
    assert isinstance(first.value.winner.what, Posting)
    assert len(first.value.winner.what.days) == 3
    assert [len(found.days) for found in ledger.postings(TODAY, TODAY)] == [3]


def test_the_coming_days_are_held_against_all_that_was_posted_the_day_before(
    room: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    ledger, asked, planner = MemoryLedger(), list[Problem](), search.plan
    open_day(room, ledger, NOW)
    open_day(room, ledger, NOW + timedelta(days=1), at_once=True)

    def noted(problem: Problem, previous: Iterable[Slot] = ()) -> Plan:
        asked.append(problem)
        return planner(problem, previous)

    monkeypatch.setattr(search, "plan", noted)
    open_day(room, ledger, NOW + timedelta(days=1))
    (problem,) = asked
    assert (problem.start, problem.posted_days) == (TODAY + timedelta(days=2), 26)
    planned = the_posting(ledger, TODAY)
    assert sorted((slot.tank, slot.feed) for slot in problem.posted if slot.day == 3) == sorted(
        (due.tank, due.feed) for due in planned.due(TODAY + timedelta(days=5))
    )
