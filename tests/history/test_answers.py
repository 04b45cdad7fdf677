"""When a need was last answered, on which days, and from which day on the ledger knows."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from schedules.history import History, history_of
from schedules.history.answers import days_answered, days_left_out, last_answered, ledger_begin
from schedules.ledger import Away, ChoreMark, Posting, Reading, Reason, SaltAdded, WaterAdded, WaterChanged, What
from schedules.ledger.stores.memory import MemoryLedger
from tests.ledger.builders import DAY, due, served, write


def ago(days: int) -> date:
    return DAY - timedelta(days=days)


def history_after(*acts: tuple[int, What]) -> History:
    """The history of acts, each so many days before `DAY`."""
    ledger = MemoryLedger()
    for days, what in acts:
        write(ledger, what, day=ago(days))
    return history_of(ledger, DAY)


def test_the_last_answer_is_the_newest_serving_of_any_of_the_feeds_before_the_day() -> None:
    history = history_after((5, served(feed="moss")), (3, served(feed="leaf")), (2, served("b2")), (0, served()))

    assert last_answered(history, "a1", ("moss", "leaf"), DAY) == (ago(3), "leaf")
    assert last_answered(history, "a1", ("moss",), DAY) == (ago(5), "moss")
    assert last_answered(history, "a1", ("moss",), DAY + timedelta(days=1)) == (DAY, "moss")
    assert last_answered(history, "a1", ("dust",), DAY) is None
    assert last_answered(history, "a1", (), DAY) is None


def test_of_two_feeds_on_one_day_the_last_by_name_answered() -> None:
    history = history_after((3, served(feed="moss")), (3, served(feed="leaf")))

    assert last_answered(history, "a1", ("moss", "leaf"), DAY) == (ago(3), "moss")


def test_a_need_is_answered_on_every_day_of_any_of_its_feeds_within_the_days_asked_for() -> None:
    history = history_after(*((days, served(feed="moss")) for days in (6, 5, 2)), (3, served(feed="leaf")))

    assert days_answered(history, "a1", ("moss", "leaf"), ago(5), ago(2)) == {ago(5), ago(3), ago(2)}
    assert days_answered(history, "a1", ("moss",), ago(4), ago(3)) == set()
    assert days_answered(history, "b2", ("moss", "leaf"), ago(6), DAY) == set()


@pytest.mark.parametrize(
    ("days", "since", "left_out"),
    [
        # A plan of days ago that gives nothing of the feed: each of its days after `since` was left out on purpose.
        (((), (), ()), 9, 3),
        (((), (), ()), 4, 2),
        (((), (), ()), 2, 0),
        # It gives the feed on its second day, which has passed without it: then nothing was left out on purpose.
        (((), (due(),), ()), 9, 0),
        # On its first day alone, and the feed was given then.
        (((due(),), (), ()), 4, 2),
        # Another feed or tank.
        (((), (due(feed="leaf"), due("b2")), ()), 9, 3),
    ],
)
def test_days_are_left_out_on_purpose_where_a_leave_plan_gives_nothing(
    days: tuple[tuple[object, ...], ...], since: int, left_out: int
) -> None:
    history = history_after((4, Away("Ida", Posting(ago(4), days))))  # type: ignore[arg-type]

    assert days_left_out(history, "a1", ("moss", "dust"), ago(since), DAY) == left_out


def test_days_ahead_are_not_left_out_yet_and_what_is_due_today_may_still_be_given() -> None:
    history = history_after((2, Away("Ida", Posting(ago(2), ((), (), (due(),), ())))))

    # Two days without it before today, and today, on which it is due.
    assert days_left_out(history, "a1", ("moss",), ago(9), DAY) == 2


def test_the_ledger_begins_with_its_first_serving_or_its_first_posting() -> None:
    assert ledger_begin(history_after()) is None
    assert ledger_begin(history_after((90, served()), (5, served()))) == ago(90)
    assert ledger_begin(history_after((6, Posting(ago(6), ((due(),),))), (5, served()))) == ago(6)
    assert ledger_begin(history_after((6, served()), (5, Posting(ago(5), ((due(),),))))) == ago(6)


def test_water_is_read_twelve_weeks_back_and_all_else_four() -> None:
    water: tuple[What, ...] = (
        Reading("a1", "tds", 150),
        WaterAdded("a1", 1),
        WaterChanged("a1", 5),
        SaltAdded("a1", "salt", 1),
    )
    for what in water:
        history = history_after((85, what), (84, what), (0, what))
        assert [entry.day for entry in history.water_of("a1")] == [ago(84), DAY]
    history = history_after((29, served()), (28, served()), (0, served()))
    assert [entry.day for entry in history.entries] == [ago(28), DAY]
    assert history.last_before == {("a1", "moss"): ago(29)}
    assert (history.first, history.last) == (ago(28), DAY)


def test_marks_of_a_chore_are_found_by_tank_and_chore_in_the_order_of_days() -> None:
    history = history_after(
        (1, ChoreMark("wipe", "a1")),
        (3, ChoreMark("wipe", "a1", because=Reason.other("no time"))),
        (2, ChoreMark("wipe", "b2")),
        (2, ChoreMark("trim", "a1")),
        (2, ChoreMark("lamps", rack="left")),
        (40, ChoreMark("wipe", "a1")),
    )
    assert [entry.day for entry in history.chore_marks("a1", "wipe")] == [ago(3), ago(1)]
    assert [entry.day for entry in history.chore_marks("b2", "wipe")] == [ago(2)]
    lamps = ChoreMark("lamps", rack="left")
    assert [entry.what for entry in history.chore_marks("", lamps.subject)] == [lamps]
    assert history.chore_marks("b2", "trim") == ()
    assert history.chores_before == {("a1", "wipe"): ago(40)}
