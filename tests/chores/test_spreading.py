"""Spreading: within the window, never a longer day than without it, and the same whenever it is asked for."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.chores.spreading import Spreading, level
from schedules.chores.windows import calendar_window, days_of
from schedules.room import Keeper, Room
from schedules.room.chores import Chore
from tests.chores.rooms import AT, EVERYWHERE, chore, day, room_with

RULES = st.sampled_from(("FREQ=DAILY", "FREQ=WEEKLY", "FREQ=WEEKLY;BYDAY=MO,FR", "FREQ=MONTHLY;BYMONTHDAY=15,30"))
OFF = st.sets(st.integers(0, 6), max_size=5).map(lambda days: (Keeper("Ana", off_weekdays=frozenset(days)),))


@st.composite
def chores(draw: st.DrawFn, number: int) -> Chore:
    places = draw(st.lists(st.sampled_from(EVERYWHERE), min_size=1, unique=True))
    timed = draw(RULES.map(lambda rule: {"rule": rule}) | st.integers(1, 12).map(lambda every: {"every": every}))
    return chore(
        f"c{number}",
        *sorted(places, key=EVERYWHERE.index),
        begins=day(draw(st.integers(0, 10))),
        within=draw(st.integers(1, 9)),
        minutes=draw(st.sampled_from((0.0, 0.5, 1.0, 2.0, 7.0))),
        **timed,
    )


@st.composite
def rooms(draw: st.DrawFn) -> Room:
    return room_with(*(draw(chores(number)) for number in range(draw(st.integers(1, 6)))), keepers=draw(OFF))


@given(rooms())
@settings(deadline=None)
def test_every_place_has_its_day_in_its_window_and_on_a_day_on_which_somebody_comes(room: Room) -> None:
    spread = Spreading(room)
    for of in room.chores:
        for number in range(60):
            window = calendar_window(of, day(number))
            if window is None:
                continue
            for place in of.places:
                assert spread.day(of, window, place) in days_of(room, of, window)


@given(rooms())
@settings(deadline=None)
def test_the_longest_day_is_never_longer_than_if_all_were_done_on_the_first_day(room: Room) -> None:
    """Both are looked at over so long a time that every calendar drawn here has come around at least once."""
    spread = Spreading(room)
    days = [day(number) for number in range(200)]
    longest = max(spread.minutes_unspread(each) for each in days)

    assert max(spread.minutes(each) for each in days) <= longest + 1e-9


@given(rooms(), st.integers(0, 60))
@settings(deadline=None)
def test_a_day_is_the_same_whichever_day_was_asked_for_first(room: Room, first: int) -> None:
    forwards, other = Spreading(room), Spreading(room)
    other.minutes(day(first))

    assert [forwards.minutes(day(n)) for n in range(60)] == [other.minutes(day(n)) for n in reversed(range(60))][::-1]


def test_six_tanks_in_six_days_are_one_a_day() -> None:
    of = chore(rule="FREQ=WEEKLY", within=6)
    spread = Spreading(room_with(of))

    assert [spread.minutes(day(number)) for number in range(7)] == [1, 1, 1, 1, 1, 1, 0]
    assert [spread.minutes_unspread(day(number)) for number in range(7)] == [6, 0, 0, 0, 0, 0, 0]


def test_tanks_that_share_a_day_follow_one_another_in_the_walk() -> None:
    of = chore(rule="FREQ=WEEKLY", within=2)
    spread, window = Spreading(room_with(of)), calendar_window(of, day(0))
    assert window is not None
    first_day = [place.tank for place in EVERYWHERE if spread.day(of, window, place) == day(0)]

    assert first_day == ["a1", "a2", "a3"]


def test_chores_with_slack_make_room_for_one_that_has_none() -> None:
    long_one = chore("trim", AT["a1"], rule="FREQ=WEEKLY;BYDAY=TU", minutes=5)
    light = chore("wipe", rule="FREQ=WEEKLY", within=3)
    spread = Spreading(room_with(long_one, light))

    assert [spread.minutes(day(number)) for number in range(3)] == [3, 5, 3]


@given(st.lists(st.floats(0, 50), min_size=1, max_size=12), st.integers(0, 40), st.floats(0.1, 9))
def test_levelling_keeps_every_item_and_lowers_the_longest_day_as_far_as_moves_from_the_first_day_can(
    loads: list[float], items: int, minutes: float
) -> None:
    counts = level(loads, items, minutes)
    after = [load + count * minutes for load, count in zip(loads, counts, strict=True)]

    assert sum(counts) == items and min(counts) >= 0
    if counts[0]:
        assert min(after) + minutes >= after[0] - 1e-9, "one more could leave the first day"
    assert max(after) <= max(loads[0] + items * minutes, *loads) + 1e-9


def test_a_week_of_many_chores_is_level_to_within_the_longest_of_them() -> None:
    week = [chore(f"c{n}", rule="FREQ=WEEKLY", within=7, minutes=1 + n) for n in range(4)]
    spread = Spreading(room_with(*week))
    minutes = [spread.minutes(day(7) + timedelta(days=n)) for n in range(7)]

    assert sum(minutes) == 6 * (1 + 2 + 3 + 4)
    assert max(minutes) - min(minutes) <= 4
