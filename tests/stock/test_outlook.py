"""When a feed runs out and what to order, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.room import Feed, Packs
from schedules.room_file import load_room_text
from schedules.stock import OpenPack, Shelf, outlook_of
from schedules.stock.shelf import Taken
from tests.tui.rooms import room_text

TODAY = date(2026, 11, 25)  # a Wednesday
FEED: Feed = load_room_text(room_text(), "room.toml").feeds["dust"]


def shelf(grams: float, least: float | None = None, most: float | None = None, taken: float = 1.0) -> Shelf:
    low, high = grams if least is None else least, grams if most is None else most
    return Shelf(grams, low, high, TODAY, True, 0.0, Taken(taken, taken, taken, 2))


def test_it_runs_out_on_the_first_day_for_which_it_is_not_enough() -> None:
    # 10 g, 2 g on each of four days, 1 g a day after: the tenth gram goes on the sixth day, none is left for the next.
    found = outlook_of(FEED, TODAY, [2, 2, 2, 2], 1.0, shelf(10))

    assert found.out_first == TODAY + timedelta(days=6)


def test_a_shelf_that_is_enough_to_the_gram_lasts_the_day() -> None:
    assert outlook_of(FEED, TODAY, [5, 5], 0.0, shelf(10)).out_first is None
    assert outlook_of(FEED, TODAY, [5, 5, 1], 0.0, shelf(10)).out_first == TODAY + timedelta(days=2)


def test_the_range_of_the_shelf_and_of_the_losses_is_the_range_of_the_day() -> None:
    unsure = Shelf(10, 8, 12, TODAY, True, 0.0, Taken(1.0, 1.25, 2.0, 2))
    found = outlook_of(FEED, TODAY, [], 1.0, unsure)

    # 8 g at 2 g a day, 10 g at 1.25 g, 12 g at 1 g.
    assert [found.out_first, found.out_likely, found.out_last] == [TODAY + timedelta(days=days) for days in (4, 8, 12)]


def test_weeks_begin_on_monday() -> None:
    found = outlook_of(FEED, TODAY, [1.0] * 7, 1.0, None)

    assert found.weeks == {date(2026, 11, 23): 5.0, date(2026, 11, 30): 2.0}


def test_an_order_comes_in_time_and_in_whole_packs() -> None:
    feed = replace(FEED, packs=Packs(grams=25, lead_days=10))
    found = outlook_of(feed, TODAY, [], 0.5, shelf(20))

    # 20 g at half a gram a day last 40 days; ninety days take 45 g, two packs of 25 g.
    assert found.out_first == TODAY + timedelta(days=40)
    assert found.order is not None
    assert (found.order.by, found.order.packs, found.order.grams) == (TODAY + timedelta(days=30), 2, 50)


def test_what_is_not_used_before_the_date_of_the_pack_is_said() -> None:
    pack = OpenPack("K7", TODAY, TODAY + timedelta(days=9))
    found = outlook_of(FEED, TODAY, [1.0, 1.0], 0.5, shelf(20), pack)

    # Ten days: two grams planned and eight times half a gram; 14 g are too much.
    assert found.unused == pytest.approx(14.0)


@given(st.lists(st.floats(0, 5), max_size=28), st.floats(0.01, 5), st.floats(0, 500), st.floats(1, 1.5))
def test_until_it_runs_out_it_is_enough_and_then_it_is_not(
    planned: list[float], usual: float, grams: float, taken: float
) -> None:
    found = outlook_of(FEED, TODAY, planned, usual, shelf(grams, taken=taken))

    def used(days: int) -> float:
        return taken * sum(planned[day] if day < len(planned) else usual for day in range(days))

    if found.out_first is None:
        assert used(731) <= grams + usual * taken + 1e-6
        return
    days = (found.out_first - TODAY).days
    assert used(days) <= grams + 1e-6
    assert used(days + 1) >= grams - 1e-6
