"""A tank's water as one looks at it: which value counts, what it is compared with, and when too little was read."""

from __future__ import annotations

from datetime import timedelta

from schedules.ledger import Reading
from schedules.room import Water
from schedules.water.readings import Value
from schedules.water.summary import QuantityNow, water_now
from tests.water.rooms import TODAY, first_rack, past_of


def test_the_latest_value_is_compared_with_that_of_the_day_before_which_it_was_read_last() -> None:
    _, tank = first_rack()
    past = past_of(
        (9, Reading(tank.id, "tds", 150)),
        (5, Reading(tank.id, "tds", 160, "08:00")),
        (5, Reading(tank.id, "tds", 165, "19:00")),
        (0, Reading(tank.id, "tds", 175)),
        (0, Reading(tank.id, "ph", 6.5)),
    )
    tds, ph = sorted(water_now(past, tank, TODAY), key=lambda now: now.quantity, reverse=True)

    assert (tds.quantity, tds.value.value, tds.count, tds.change) == ("tds", 175, 3, 10)
    assert tds.before is not None
    assert (tds.before.value, tds.before.day) == (165, TODAY - timedelta(days=5))
    assert (ph.quantity, ph.value.value, ph.count, ph.before, ph.change) == ("ph", 6.5, 1, None, None)


def test_what_the_room_file_says_counts_as_read_once_and_what_was_never_read_is_left_out() -> None:
    _, tank = first_rack(Water(temperature=23.0, gh=6.0))
    assert list(water_now(past_of(), tank, TODAY)) == [
        QuantityNow("temperature", Value(23.0), None, None, 0),
        QuantityNow("gh", Value(6.0), None, None, 0),
    ]


def test_what_was_read_after_the_day_is_not_looked_at() -> None:
    _, tank = first_rack()
    past = past_of(*((days, Reading(tank.id, "tds", 150.0 + days)) for days in (9, 6, 3, 0)))
    (now,) = water_now(past, tank, TODAY - timedelta(days=3))
    assert (now.value.value, now.count, now.change) == (153, 3, -3)


def test_of_five_days_read_the_tanks_own_past_says_something_and_of_six_there_is_a_trend() -> None:
    _, tank = first_rack()
    days = (20, 16, 12, 8, 4, 0)
    known = {}
    for count in (4, 5, 6):
        past = past_of(*((day, Reading(tank.id, "tds", 150.0 - day)) for day in days[-count:]))
        (known[count],) = water_now(past, tank, TODAY)
    assert {count: (now.too_few, now.trend is not None) for count, now in known.items()} == {
        4: (True, False),
        5: (False, False),
        6: (False, True),
    }
    assert known[6].trend is not None
    assert known[6].trend.line.slope == 1.0
