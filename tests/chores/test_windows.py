"""On which days a turn of a chore comes: by a recurrence rule, or by when it was last done."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.chores.types import Window
from schedules.chores.windows import calendar_window, days_of, next_window, turns_between
from schedules.room import Keeper
from tests.chores.rooms import MONDAY, chore, day, room_with

# RFC 5545 (September 2009), 3.8.5.3, pages 123 to 132: the first day, the rule, and the days printed there. Times of
# day are left out. (Of the examples the one of page 131 that is misprinted is not among these.)
PRINTED = [
    ("19970902", "FREQ=DAILY;INTERVAL=10;COUNT=5", "0902 0912 0922 1002 1012"),
    ("19970902", "FREQ=WEEKLY;COUNT=10", "0902 0909 0916 0923 0930 1007 1014 1021 1028 1104"),
    ("19970902", "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH", "0902 0904 0909 0911 0916 0918 0923 0925 0930 1002"),
    ("19970902", "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH", "0902 0904 0916 0918 0930 1002 1014 1016"),
    ("19970805", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO", "0805 0810 0819 0824"),
    ("19970805", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU", "0805 0817 0819 0831"),
]


@pytest.mark.parametrize(("begins", "rule", "printed"), PRINTED)
def test_a_chore_done_on_each_of_its_days_comes_on_the_days_that_rfc_5545_prints(
    begins: str, rule: str, printed: str
) -> None:
    of = chore(rule=rule, begins=date.fromisoformat(begins))
    found, settled = [], None
    while (window := next_window(of, settled)) is not None:
        found.append(f"{window.first:%m%d}")
        settled = window.first

    assert found == printed.split()


def test_first_fridays_go_on_into_the_next_year() -> None:
    # RFC 5545, page 127: ten first Fridays from 5 September 1997.
    of = chore(rule="FREQ=MONTHLY;COUNT=10;BYDAY=1FR", begins=date(1997, 9, 5))
    found, settled = [], None
    while (window := next_window(of, settled)) is not None:
        found.append(window.first.isoformat()[2:])
        settled = window.first

    assert found == [
        "97-09-05", "97-10-03", "97-11-07", "97-12-05", "98-01-02",
        "98-02-06", "98-03-06", "98-04-03", "98-05-01", "98-06-05",
    ]  # fmt: skip


def test_a_rule_keeps_its_calendar_when_a_turn_is_done_late() -> None:
    weekly = chore(rule="FREQ=WEEKLY")

    assert next_window(weekly, day(2)) == Window(day(7), day(7))
    assert next_window(weekly, day(9)) == Window(day(14), day(14))
    assert turns_between(weekly, day(1), day(21)) == 3


def test_days_after_it_was_done_move_with_the_day_on_which_it_was() -> None:
    every_three = chore(every=3, within=2)

    assert next_window(every_three, None) == Window(MONDAY, day(1))
    assert next_window(every_three, day(1)) == Window(day(4), day(5))
    assert next_window(every_three, day(6)) == Window(day(9), day(10))
    assert turns_between(every_three, day(1), day(21)) == 0


def test_a_window_never_reaches_into_the_next_turn() -> None:
    twice_a_week = chore(rule="FREQ=WEEKLY;BYDAY=MO,TH", within=7)

    assert next_window(twice_a_week, None) == Window(day(0), day(2))
    assert next_window(twice_a_week, day(0)) == Window(day(3), day(6))


def test_a_rule_that_has_ended_has_no_turn_any_more() -> None:
    assert next_window(chore(rule="FREQ=WEEKLY;COUNT=2"), day(7)) is None


def test_a_chore_is_not_put_on_a_day_on_which_nobody_comes_who_does_it() -> None:
    mondays_off = Keeper("Ana", off_weekdays=frozenset((0,)))
    always_here = Keeper("Ben")
    anyone, anas = chore(rule="FREQ=WEEKLY", within=3), chore(rule="FREQ=WEEKLY", within=3, by=("Ana",))
    room = room_with(anyone, anas, keepers=(mondays_off, always_here))
    window = Window(day(0), day(2))

    assert days_of(room, anyone, window) == (day(0), day(1), day(2))
    assert days_of(room, anas, window) == (day(1), day(2))
    assert days_of(room, anas, Window(day(0), day(0))) == (day(0),)


@given(st.integers(1, 40), st.integers(1, 31), st.integers(0, 400))
def test_windows_of_the_calendar_never_overlap_and_hold_the_day_they_are_asked_for(
    every: int, within: int, number: int
) -> None:
    of = chore(every=every, within=within)
    window = calendar_window(of, day(number))

    if window is not None:
        assert window.first <= day(number) <= window.last
        assert (window.last - window.first).days == within - 1
        assert (window.first - MONDAY).days % (every + within - 1) == 0
