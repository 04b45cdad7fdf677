"""On which days a leave plan holds, whatever was accepted and ended before."""

from __future__ import annotations

from datetime import date, timedelta

from schedules.history import history_of, refresh
from schedules.history.leave import LeaveDay, leave_of, with_leave
from schedules.ledger import Away, Back, PostedServing, Posting
from schedules.ledger.stores.memory import MemoryLedger
from tests.ledger.builders import DAY, due, write

ONE: tuple[PostedServing, ...] = (due("a1"),)
TWO: tuple[PostedServing, ...] = (due("b2"), due("c3"))


def after(days: int) -> date:
    return DAY + timedelta(days=days)


def ledger_of(*acts: tuple[int, Away | Back]) -> MemoryLedger:
    """A ledger with acts, each about the day so many after `DAY`."""
    ledger = MemoryLedger()
    for days, what in acts:
        write(ledger, what, day=after(days))
    return ledger


def away(first: int, *days: tuple[PostedServing, ...], helper: str = "Ida") -> tuple[int, Away]:
    return first, Away(helper, Posting(after(first), days))


def test_a_leave_plan_holds_on_each_of_its_days_also_those_without_a_visit() -> None:
    ledger = ledger_of(away(2, ONE, (), TWO))

    assert leave_of(ledger, DAY) == {
        after(2): LeaveDay("Ida", ONE, 1),
        after(3): LeaveDay("Ida", (), 1),
        after(4): LeaveDay("Ida", TWO, 1),
    }


def test_on_days_that_two_plans_cover_the_one_written_last_holds() -> None:
    ledger = ledger_of(away(2, ONE, ONE, ONE), away(3, TWO, helper="Ole"))

    assert [(day, held.helper, held.due) for day, held in leave_of(ledger, DAY).items()] == [
        (after(2), "Ida", ONE),
        (after(3), "Ole", TWO),
        (after(4), "Ida", ONE),
    ]
    earlier = ledger_of(away(3, TWO, helper="Ole"), away(2, ONE, ONE, ONE))
    assert [held.helper for held in leave_of(earlier, DAY).values()] == ["Ida"] * 3


def test_from_the_day_on_which_the_keeper_is_back_no_plan_written_before_holds() -> None:
    ledger = ledger_of(away(2, ONE, ONE, ONE), (3, Back()))
    assert list(leave_of(ledger, DAY)) == [after(2)]

    write(ledger, Away("Ole", Posting(after(4), (TWO,))), day=after(4))
    assert list(leave_of(ledger, DAY)) == [after(2), after(4)]


def test_days_before_the_one_asked_for_are_left_out_though_their_plan_reaches_further() -> None:
    ledger = ledger_of(away(0, *[ONE] * 60))

    assert list(leave_of(ledger, after(58))) == [after(58), after(59)]
    assert leave_of(ledger, after(60)) == {}
    assert len(leave_of(ledger, date.min)) == 60


def test_a_plan_of_more_than_sixty_days_holds_for_sixty() -> None:
    assert list(leave_of(ledger_of(away(0, *[ONE] * 61)), DAY))[-1] == after(59)


def test_what_was_posted_gives_way_on_days_away_and_on_no_other() -> None:
    posting = Posting(DAY, (TWO, TWO, TWO))
    held = {after(1): LeaveDay("Ida", ONE, 1), after(2): LeaveDay("Ida", (), 1), after(3): LeaveDay("Ida", ONE, 1)}

    assert with_leave(posting, held) == Posting(DAY, (TWO, ONE, ()))
    assert with_leave(posting, {after(3): LeaveDay("Ida", ONE, 1)}) is posting


def test_an_open_history_learns_of_a_plan_and_of_its_end() -> None:
    ledger = MemoryLedger()
    write(ledger, Posting(DAY, (TWO, TWO, TWO, TWO)), by=None)
    history = history_of(ledger, DAY, ahead=3)
    assert history.due_in("b2", after(1)) == (TWO[0],)
    assert not history.says(after(4))

    write(ledger, Away("Ida", Posting(after(1), (ONE, (), (), ONE))), day=after(1))
    history = refresh(history, ledger)
    assert (history.due(DAY), history.due(after(1)), history.due(after(2))) == (TWO, ONE, ())
    assert (history.due_in("b2", after(1)), history.due_in("a1", after(1))) == ((), ONE)
    assert history.says(after(4))

    write(ledger, Back(), day=after(2))
    history = refresh(history, ledger)
    assert (history.due(after(1)), history.due(after(2))) == (ONE, TWO)
    assert history.due_in("b2", after(2)) == (TWO[0],)
    assert not history.says(after(4))
