"""Days away in a session: what is written of them, for which day, and in whose name."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from schedules.leave import LeavePlan
from schedules.leave.ticks import Tick
from schedules.ledger import Away, Back, Observed, Served, Skipped, What
from schedules.room import Room
from schedules.session.session import Session
from tests.session.conftest import TODAY as NOW
from tests.session.conftest import Clock, Moody, due

TODAY = NOW.date()
DAY = timedelta(days=1)


def plan_from(room: Room, first: date) -> LeavePlan:
    """A visit at both tanks on the first day and on the third."""
    visit = (due(room, "a1", "dust", 0.75), due(room, "a2", "dust", 0.75))
    return LeavePlan(first, (visit, (), visit))


def away_since(session: Session, clock: Clock, first: date, helper: str = "Ida") -> LeavePlan:
    """A leave plan accepted on its first day; the keeper is back on what the clock showed before."""
    back, clock.now = clock.now, NOW + (first - TODAY)
    plan = plan_from(session.room, first)
    assert session.accept_leave(helper, plan).result == "recorded"
    clock.now = back
    session.open()
    return plan


def written(ledger: Moody) -> list[tuple[date, str | None, What]]:
    return [(entry.day, entry.by, entry.what) for entry in ledger.everything()]


def test_a_leave_plan_is_an_entry_of_its_first_day_and_cannot_be_undone(session: Session, ledger: Moody) -> None:
    plan = plan_from(session.room, TODAY + 2 * DAY)
    outcome = session.accept_leave("Ida", plan)

    assert (outcome.result, outcome.undoable) == ("recorded", False)
    assert written(ledger)[-1] == (plan.first, "Mara", Away("Ida", plan.posting))
    assert outcome.act is not None
    assert outcome.act.kind == "leave"
    assert session.history.due(plan.first) == plan.days[0]


def test_its_end_is_an_entry_of_the_day_from_which_the_posted_plan_holds(session: Session, ledger: Moody) -> None:
    session.accept_leave("Ida", plan_from(session.room, TODAY + DAY))
    outcome = session.end_leave(TODAY + 2 * DAY)

    assert (outcome.result, outcome.undoable) == ("recorded", False)
    assert written(ledger)[-1] == (TODAY + 2 * DAY, "Mara", Back())
    assert outcome.act is not None
    assert outcome.act.kind == "end_leave"
    assert list(session.history.leave) == [TODAY + DAY]


@pytest.mark.parametrize("ago", [3, 40, 60])
def test_the_sheet_of_days_away_is_found_weeks_later(session: Session, clock: Clock, ago: int) -> None:
    plan = away_since(session, clock, TODAY - ago * DAY)
    sheet = session.helper_sheet()

    assert sheet is not None
    assert (sheet.helper, sheet.first, sheet.last) == ("Ida", plan.first, plan.last)
    assert list(sheet.visits) == [
        (plan.first, "a1"),
        (plan.first, "a2"),
        (plan.last, "a1"),
        (plan.last, "a2"),
    ]


def test_a_sheet_of_any_past_days_is_found_when_its_days_are_named(session: Session, clock: Clock) -> None:
    plan = away_since(session, clock, TODAY - 90 * DAY)

    assert session.helper_sheet() is None
    sheet = session.helper_sheet(plan.first, plan.first)
    assert sheet is not None
    assert (sheet.days, list(sheet.visits)) == ((plan.first,), [(plan.first, "a1"), (plan.first, "a2")])


def test_ticks_are_written_in_the_helpers_name_an_act_for_each_day(
    session: Session, clock: Clock, ledger: Moody
) -> None:
    plan = away_since(session, clock, TODAY - 5 * DAY)
    before = len(written(ledger))
    sheet = session.helper_sheet()
    assert sheet is not None

    outcome = session.enter_ticks(sheet, {(plan.first, "a1"): "given", (plan.last, "a2"): "left"})

    assert (outcome.result, outcome.count, outcome.undoable) == ("recorded", 2, False)
    assert outcome.tanks == {"a1", "a2"}
    first, last = written(ledger)[before:]
    assert first[:2] == (plan.first, "Ida")
    assert isinstance(first[2], Served)
    assert (first[2].tank, first[2].feed, first[2].part) == ("a1", "dust", 0.75)
    assert last[:2] == (plan.last, "Ida")
    assert isinstance(last[2], Skipped)
    assert (last[2].tank, last[2].because.code) == ("a2", "left_out")
    assert session.by == "Mara"


def test_somebody_else_may_have_ticked_it(session: Session, clock: Clock, ledger: Moody) -> None:
    plan = away_since(session, clock, TODAY - 5 * DAY)
    sheet = session.helper_sheet()
    assert sheet is not None
    session.enter_ticks(sheet, {(plan.first, "a1"): "given"}, by="Ole")

    assert written(ledger)[-1][1] == "Ole"


def test_a_day_marked_by_somebody_meanwhile_ends_it_and_nothing_later_is_written(
    session: Session, clock: Clock, ledger: Moody
) -> None:
    plan = away_since(session, clock, TODAY - 5 * DAY)
    sheet = session.helper_sheet()
    assert sheet is not None
    ticks: dict[tuple[date, str], Tick] = {(plan.first, "a1"): "given", (plan.last, "a1"): "given"}
    session.enter_ticks(sheet, {(plan.first, "a1"): "left"}, by="Ole")
    before = written(ledger)

    outcome = session.enter_ticks(sheet, ticks)

    assert (outcome.result, outcome.count) == ("already_marked", 0)
    assert written(ledger) == before
    assert session.by == "Mara"


def test_ticks_that_the_ledger_does_not_take_are_kept_for_all_days(
    session: Session, clock: Clock, ledger: Moody
) -> None:
    plan = away_since(session, clock, TODAY - 5 * DAY)
    sheet = session.helper_sheet()
    assert sheet is not None
    before = len(written(ledger))
    ledger.locked = True
    outcome = session.enter_ticks(sheet, {(plan.first, "a1"): "given", (plan.last, "a1"): "given"})
    assert (outcome.result, outcome.count) == ("kept", 2)

    ledger.locked = False
    session.save_again()
    assert [(day, by) for day, by, _ in written(ledger)[before:]] == [(plan.first, "Ida"), (plan.last, "Ida")]


def test_nothing_ticked_writes_nothing(session: Session, clock: Clock, ledger: Moody) -> None:
    away_since(session, clock, TODAY - 5 * DAY)
    sheet = session.helper_sheet()
    assert sheet is not None
    before = written(ledger)

    assert session.enter_ticks(sheet, {}).result == "nothing_due"
    assert written(ledger) == before


@pytest.mark.parametrize(("ago", "found"), [(1, True), (7, True), (8, False)])
def test_cloudy_on_the_first_visit_means_the_feed_that_was_given_up_to_a_week_before(
    session: Session, clock: Clock, ledger: Moody, ago: int, found: bool
) -> None:
    plan = away_since(session, clock, TODAY - 27 * DAY)
    session.give("a1", "flake", day=plan.first - ago * DAY, anyway=True)
    sheet = session.helper_sheet()
    assert sheet is not None
    session.enter_ticks(sheet, {(plan.first, "a1"): "cloudy"})

    lying = [what for day, _, what in written(ledger) if isinstance(what, Observed) and day == plan.first]
    assert lying == ([Observed("a1", "flake", "most")] if found else [])
