"""Time: whatever clock, zone and calendar do, no serving counts on the wrong day or twice."""

from __future__ import annotations

from contextlib import closing
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo, available_timezones

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from schedules.history import history_of
from schedules.ledger import AlreadyMarked
from schedules.ledger.clock import clock_fault
from schedules.ledger.stores.memory import MemoryLedger
from schedules.ledger.stores.opening import open_at
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room.feeding_day import INTO_THE_NIGHT, feeding_day
from schedules.room.place import Place
from tests.ledger.builders import DAY, MORNING, served, write

ZONES = st.sampled_from(sorted(available_timezones() - {"localtime"})).map(ZoneInfo)
DATES = st.dates(date(1990, 1, 1), date(2060, 12, 31))
INSTANTS = st.integers(-36 * 365 * 1440, 34 * 365 * 1440).map(lambda minutes: MORNING + timedelta(minutes=minutes))


def test_a_clock_that_went_on_is_nothing_odd() -> None:
    assert clock_fault(None, MORNING) is None
    assert clock_fault(MORNING, MORNING) is None
    assert clock_fault(MORNING, MORNING + timedelta(days=30)) is None


def test_a_clock_put_right_by_seconds_is_nothing_odd() -> None:
    assert clock_fault(MORNING, MORNING - timedelta(seconds=5)) is None


@given(back=st.timedeltas(timedelta(minutes=2), timedelta(days=9000)))
def test_a_clock_earlier_than_the_last_entry_is_told_of(back: timedelta) -> None:
    told = clock_fault(MORNING, MORNING - back)
    assert told is not None
    assert "earlier than the last entry of 2026-11-25 07:00 UTC" in told


def test_a_clock_years_ahead_is_told_of() -> None:
    told = clock_fault(MORNING, MORNING + timedelta(days=3650))
    assert told is not None
    assert "3650 days after the last entry" in told


@settings(max_examples=100)
@given(zone=ZONES, day=DATES, at=st.times())
def test_a_morning_round_counts_on_the_rooms_date(zone: ZoneInfo, day: date, at: time) -> None:
    now = datetime.combine(day, at, zone).astimezone(UTC)
    assume(now.astimezone(zone).replace(tzinfo=None) == datetime.combine(day, at))
    assert feeding_day(now, zone, [time(7)]) == day


@settings(max_examples=100)
@given(zone=ZONES, day=DATES, minutes=st.integers(0, INTO_THE_NIGHT // timedelta(minutes=1) - 1))
def test_a_round_that_crosses_midnight_counts_on_the_date_it_began(zone: ZoneInfo, day: date, minutes: int) -> None:
    wall = datetime.combine(day, time(22, 30)) + timedelta(minutes=minutes)
    now = wall.replace(tzinfo=zone).astimezone(UTC)
    assume(now.astimezone(zone).replace(tzinfo=None) == wall)
    assert feeding_day(now, zone, [time(7), time(22, 30)]) == day


def test_a_round_that_is_long_over_does_not_keep_its_date() -> None:
    zone = ZoneInfo("Europe/Lisbon")
    assert feeding_day(datetime(2026, 11, 26, 3, tzinfo=zone), zone, [time(7), time(22, 30)]) == date(2026, 11, 26)


def test_the_next_days_first_round_ends_the_night() -> None:
    zone = ZoneInfo("Europe/Lisbon")
    assert feeding_day(datetime(2026, 11, 26, 1, tzinfo=zone), zone, [time(0, 30), time(23)]) == date(2026, 11, 26)


@settings(max_examples=20, deadline=None)
@given(zone=ZONES, first=DATES)
def test_every_morning_of_a_year_is_a_day_of_its_own(zone: ZoneInfo, first: date) -> None:
    """Through every change of daylight saving of the zone, and through leap days."""
    ledger = MemoryLedger()
    days = set()
    for number in range(0, 370, 5):
        day = first + timedelta(days=number)
        now = datetime.combine(day, time(7), zone).astimezone(UTC)
        if now.astimezone(zone).replace(tzinfo=None) != datetime.combine(day, time(7)):
            continue  # a day that the zone left out, as Samoa did the 30th of December 2011
        counted = feeding_day(now, zone, [time(7)])
        write(ledger, served(), day=counted, at=now)
        days.add(counted)
    assert len(days) == ledger.last_seq()


@settings(max_examples=100, deadline=None)
@given(one=ZONES, other=ZONES, now=INSTANTS, later=st.timedeltas(timedelta(0), timedelta(days=2)))
def test_after_a_change_of_zone_a_serving_still_counts_once_for_each_date(
    one: ZoneInfo, other: ZoneInfo, now: datetime, later: timedelta
) -> None:
    ledger = MemoryLedger()
    first, second = now.astimezone(one).date(), (now + later).astimezone(other).date()
    write(ledger, served(), day=first, at=now)
    if first == second:
        with pytest.raises(AlreadyMarked):
            write(ledger, served(), day=second, at=now + later)
    else:
        write(ledger, served(), day=second, at=now + later)
    assert {entry.day for entry in ledger.everything()} == {first, second}


@settings(max_examples=20, deadline=None)
@given(zone=ZONES, now=INSTANTS)
def test_an_entry_keeps_its_instant_and_its_date(
    tmp_path_factory: pytest.TempPathFactory, zone: ZoneInfo, now: datetime
) -> None:
    path = tmp_path_factory.mktemp("zone") / "room.ledger.db"
    day = now.astimezone(zone).date()
    with closing(open_ledger(path)) as ledger:
        write(ledger, served(), day=day, at=now.astimezone(zone))
    with closing(open_ledger(path)) as ledger:
        (entry,) = ledger.read(day, day)
    assert entry.at == now
    assert entry.at.utcoffset() == timedelta(0)
    assert entry.day == day


def test_a_clock_that_jumps_back_a_day_cannot_feed_that_day_twice(place: Place) -> None:
    yesterday = DAY - timedelta(days=1)
    with closing(open_at(place)) as ledger:
        write(ledger, served(), day=yesterday, at=MORNING - timedelta(days=1))
        write(ledger, served(), day=DAY)
        with pytest.raises(AlreadyMarked):
            write(ledger, served(), day=yesterday, at=MORNING - timedelta(days=1))
        told = clock_fault(ledger.last_at(), MORNING - timedelta(days=1))
    assert told is not None


def test_a_leap_day_is_a_day_like_any_other(place: Place) -> None:
    leap = date(2028, 2, 29)
    with closing(open_at(place)) as ledger:
        for day in (leap - timedelta(days=1), leap, leap + timedelta(days=1)):
            write(ledger, served(), day=day, at=datetime.combine(day, time(7), UTC))
        history = history_of(ledger, leap + timedelta(days=1))
        assert [entry.day for entry, _ in history.servings("a1", "moss")] == [
            date(2028, 2, 28),
            date(2028, 2, 29),
            date(2028, 3, 1),
        ]
        assert history.last_day("a1", "moss", date(2028, 3, 1)) == leap
