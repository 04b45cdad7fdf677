"""The shelf in a session: an open pack's date counts, and everything can be taken back."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from schedules.leave import leave_plan
from schedules.stock import stock_of
from tests.tui.rooms import make_session


def test_the_date_of_the_open_pack_counts_instead_of_that_in_the_room_file(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    session.deliver("dust", 50, "K 7", date(2027, 3, 31))
    assert session.room.feeds["dust"].best_before != date(2027, 3, 31)

    session.open_pack("dust", "K 7")
    assert session.room.feeds["dust"].best_before == date(2027, 3, 31)

    session.undo()
    assert session.room.feeds["dust"].best_before != date(2027, 3, 31)


def test_giving_from_a_pack_past_its_date_is_flagged(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    yesterday = session.day - timedelta(days=1)
    session.deliver("dust", 50, "old", yesterday)
    session.open_pack("dust", "old")
    stop = next(each for each in session.sheet.stops if any(one.due.feed == "dust" for one in each.servings))

    session.finish(stop)

    assert any(flag.kind == "past_date" and flag.feed == "dust" for flag in session.flags_of(stop.tank or ""))


def test_what_is_given_leaves_the_shelf_and_comes_back_with_undo(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    session.weigh("dust", 40)
    stop = next(each for each in session.sheet.stops if any(one.due.feed == "dust" for one in each.servings))

    def most() -> float:
        shelf = next(each for each in session.stock().feeds if each.feed == "dust").shelf
        assert shelf is not None
        return shelf.most

    assert most() == 40
    session.finish(stop)
    assert most() < 40
    session.undo()
    assert most() == 40


def test_what_was_given_today_is_not_counted_as_planned_too(tmp_path: Path) -> None:
    session = make_session(tmp_path)

    def today() -> float:
        found = next(each for each in session.stock().feeds if each.feed == "dust")
        return found.weeks[session.day - timedelta(days=session.day.weekday())]

    before = today()
    stop = next(each for each in session.sheet.stops if any(one.due.feed == "dust" for one in each.servings))
    due = sum(one.due.amount_mg for one in stop.servings if one.due.feed == "dust")
    session.finish(stop)

    assert round(before - today(), 6) == round(due / 1000, 6)


def test_on_days_away_the_shelf_gives_what_the_helper_gives(tmp_path: Path) -> None:
    """Counted again: grams of the posted plan and of the leave plan, day by day, with a calendar of their own."""
    session = make_session(tmp_path)
    first, last = session.day + timedelta(days=1), session.day + timedelta(days=9)
    posting = session.ledger.posting(session.day)
    assert posting is not None
    posted = {posting.start + timedelta(days=number): due for number, due in enumerate(posting.days)}
    before = {each.feed: each for each in session.stock().feeds}
    plan = leave_plan(session.room, session.history, session.day, first, last)
    session.accept_leave("Aunt Ida", plan)

    after = {each.feed: each for each in session.stock().feeds}

    for feed in session.room.feeds:
        grams = {
            day: sum(each.amount_mg for each in (plan.due(day) if first <= day <= last else due) if each.feed == feed)
            for day, due in posted.items()
        }
        monday = session.day - timedelta(days=session.day.weekday()) + timedelta(days=7)
        week = [monday + timedelta(days=number) for number in range(7)]
        assert after[feed].weeks[monday] == pytest.approx(sum(grams[day] for day in week) / 1000)
        assert after[feed].a_day == before[feed].a_day, "what is given as a rule stays as posted"
    assert after["bug"].weeks != before["bug"].weeks


def test_the_shelf_of_a_past_day_knows_nothing_of_later_deliveries(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    session.weigh("dust", 40, day=session.day - timedelta(days=5))
    session.deliver("dust", 100, "K 7")
    session.open_pack("dust", "K 7")

    then = stock_of(session.ledger, session.room, session.history, session.day - timedelta(days=1))
    found = next(each for each in then.feeds if each.feed == "dust")

    assert found.shelf is not None and found.shelf.most <= 40
    assert found.pack is None
