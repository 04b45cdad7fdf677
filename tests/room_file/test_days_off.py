"""Days off: recurrence rules against RFC 5545's own examples, and who must be off for the room to be.

RFC 5545 (September 2009), 3.8.5.3, pages 123 to 132. Its examples are times of day in New York; ours are about whole
days, so an UNTIL given there in UTC is written as the last local day before it. The example "every 3 hours from 9 AM to
5 PM" of page 131 is left out: what is printed there does not follow from its rule.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.room import Keeper
from schedules.room.days_off import is_day_off, is_off
from schedules.room.recurrence import RuleFault, check_rule
from tests.room_file.rooms import room_with_keepers

EXAMPLES: dict[str, tuple[str, str, dict[int, Iterable[int]]]] = {
    "daily, ten times": ("19970902", "FREQ=DAILY;COUNT=10", {9: range(2, 12)}),
    "every ten days": ("19970902", "FREQ=DAILY;INTERVAL=10;COUNT=5", {9: (2, 12, 22), 10: (2, 12)}),
    "every other day": (
        "19970902",
        "FREQ=DAILY;INTERVAL=2;UNTIL=19971104",
        {9: range(2, 31, 2), 10: range(2, 31, 2), 11: (1, 3)},
    ),
    "weekly": ("19970902", "FREQ=WEEKLY;COUNT=10", {9: (2, 9, 16, 23, 30), 10: (7, 14, 21, 28), 11: (4,)}),
    "Tuesdays and Thursdays": (
        "19970902",
        "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH",
        {9: (2, 4, 9, 11, 16, 18, 23, 25, 30), 10: (2,)},
    ),
    "three days of every other week": (
        "19970901",
        "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971223;WKST=SU;BYDAY=MO,WE,FR",
        {
            9: (1, 3, 5, 15, 17, 19, 29),
            10: (1, 3, 13, 15, 17, 27, 29, 31),
            11: (10, 12, 14, 24, 26, 28),
            12: (8, 10, 12, 22),
        },
    ),
    "two days of every other week": (
        "19970902",
        "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
        {9: (2, 4, 16, 18, 30), 10: (2, 14, 16)},
    ),
    "first Fridays": (
        "19970905",
        "FREQ=MONTHLY;COUNT=4;BYDAY=1FR",
        {9: (5,), 10: (3,), 11: (7,), 12: (5,)},
    ),
    "first and last of the month": (
        "19970930",
        "FREQ=MONTHLY;UNTIL=19971231;BYMONTHDAY=1,-1",
        {9: (30,), 10: (1, 31), 11: (1, 30), 12: (1, 31)},
    ),
    "weeks that start on Monday": (
        "19970805",
        "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO",
        {8: (5, 10, 19, 24)},
    ),
    "weeks that start on Sunday": (
        "19970805",
        "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU",
        {8: (5, 17, 19, 31)},
    ),
}


@pytest.mark.parametrize("example", EXAMPLES)
def test_a_rule_of_rfc_5545_names_the_days_printed_there(example: str) -> None:
    begin, rule, printed = EXAMPLES[example]
    start = date.fromisoformat(begin)
    keeper = Keeper("Ada", off_rules=(rule,), off_from=start)
    days = [date(1997, 1, 1) + timedelta(days=number) for number in range(365)]
    found = [day for day in days if is_off(keeper, day)]
    assert found == [date(1997, month, day) for month, month_days in printed.items() for day in month_days]


def test_a_day_that_a_month_does_not_have_is_left_out() -> None:
    # RFC 5545, page 132: the 15th and 30th of the month, five times from 15 January 2007; there is no 30 February.
    keeper = Keeper("Ada", off_rules=("FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5",), off_from=date(2007, 1, 15))
    days = [date(2007, 1, 1) + timedelta(days=number) for number in range(365)]
    found = [(day.month, day.day) for day in days if is_off(keeper, day)]
    assert found == [(1, 15), (1, 30), (2, 15), (3, 15), (3, 30)]


def test_first_fridays_go_on_into_the_next_year() -> None:
    # RFC 5545, page 127: ten first Fridays from 5 September 1997.
    keeper = Keeper("Ada", off_rules=("FREQ=MONTHLY;COUNT=10;BYDAY=1FR",), off_from=date(1997, 9, 5))
    days = [date(1998, 1, 1) + timedelta(days=number) for number in range(365)]
    found = [(day.month, day.day) for day in days if is_off(keeper, day)]
    assert found == [(1, 2), (2, 6), (3, 6), (4, 3), (5, 1), (6, 5)]


def test_the_room_is_off_only_where_every_keeper_is() -> None:
    sunday, monday = date(2026, 11, 29), date(2026, 11, 30)
    ada = Keeper("Ada", off_weekdays=frozenset((6, 0)))
    bo = Keeper("Bo", off_dates=frozenset((sunday,)))
    room = room_with_keepers(ada, bo)
    assert is_day_off(room, sunday)
    assert not is_day_off(room, monday)


@given(st.dates(date(2000, 1, 1), date(2199, 12, 31)))
def test_a_room_without_keepers_has_no_day_off(day: date) -> None:
    assert not is_day_off(room_with_keepers(), day)


@settings(deadline=None)
@given(
    st.dates(date(2020, 1, 1), date(2030, 12, 31)),
    st.integers(1, 9),
    st.dates(date(2020, 1, 1), date(2031, 12, 31)),
)
def test_every_so_many_weeks_is_what_counting_days_gives(start: date, weeks: int, day: date) -> None:
    keeper = Keeper("Ada", off_rules=(f"FREQ=WEEKLY;INTERVAL={weeks}",), off_from=start)
    since = (day - start).days
    assert is_off(keeper, day) == (since >= 0 and since % (7 * weeks) == 0)


@settings(deadline=None)
@given(st.text(max_size=40))
def test_any_text_as_a_rule_is_read_or_refused_politely(rule: str) -> None:
    try:
        check_rule(rule, date(2026, 1, 1))
    except RuleFault as fault:
        assert fault.found
        assert fault.allowed


names = st.sampled_from(
    [
        "FREQ",
        "INTERVAL",
        "COUNT",
        "UNTIL",
        "BYDAY",
        "BYMONTH",
        "BYMONTHDAY",
        "BYSETPOS",
        "WKST",
        "BYWEEKNO",
        "BYYEARDAY",
    ]
)
words = st.sampled_from(
    [
        "WEEKLY",
        "MONTHLY",
        "YEARLY",
        "SA",
        "1FR",
        "-1",
        "0",
        "1,2",
        "MO,TU",
        "99",
        "20261224",
        "20260230",
        "X",
        "400",
        "53",
    ]
)


@settings(deadline=None, max_examples=60)
@given(st.lists(st.tuples(names, words), max_size=4))
def test_any_parts_as_a_rule_are_read_or_refused_politely(parts: list[tuple[str, str]]) -> None:
    rule = ";".join(["FREQ=MONTHLY", *(f"{name}={word}" for name, word in parts)])
    try:
        check_rule(rule, date(2026, 1, 1))
    except RuleFault as fault:
        assert fault.found
        assert fault.allowed
