"""The shelf in a session: an open pack's date counts, and everything can be taken back."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

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
