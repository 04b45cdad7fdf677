"""What a helper ticked becomes entries: left out is never given, and cloudy looks back to what was really given."""

from __future__ import annotations

from datetime import date, timedelta

from schedules.history import History
from schedules.leave.ticks import entries_of
from schedules.ledger import Observed, Served, Skipped
from tests.ledger.builders import due

FIRST = date(2026, 12, 1)
THIRD, FIFTH = FIRST + timedelta(days=2), FIRST + timedelta(days=4)
EMPTY = History(FIRST, FIFTH, (), (), {}, {})
VISITS = {
    (FIRST, "a1"): (due("a1", "moss"),),
    (THIRD, "a1"): (due("a1", "pellet"),),
    (FIFTH, "a1"): (due("a1", "moss"),),
}


def test_a_visit_of_which_nothing_is_said_went_as_planned() -> None:
    days = entries_of(EMPTY, VISITS, {})

    assert [[type(what) for what in drafts] for drafts in days.values()] == [[Served], [Served], [Served]]


def test_what_lies_in_cloudy_water_is_the_feed_given_last() -> None:
    days = entries_of(EMPTY, VISITS, {(FIFTH, "a1"): "cloudy"})

    assert [type(what) for what in days[FIFTH]] == [Skipped, Observed]
    assert days[FIFTH][1] == Observed("a1", "pellet", "most")


def test_a_visit_that_was_left_out_leaves_nothing_lying() -> None:
    days = entries_of(EMPTY, VISITS, {(THIRD, "a1"): "left", (FIFTH, "a1"): "cloudy"})

    assert [type(what) for what in days[THIRD]] == [Skipped]
    assert days[FIFTH][1] == Observed("a1", "moss", "most")
