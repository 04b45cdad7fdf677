"""The clocks of a tank by hand examples.

The numbers are those of the default table of the planning rules (form 2; common practice, no source), written out here
a second time.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from schedules.room import Feed, Presence, Room, Tank
from schedules.room.clocks import DEFAULT_CLOCKS
from schedules.room.kinds import Grazing, Kind
from schedules.room.needs import TankClock, clocks_of, feed_spans
from schedules.room.spans import days_within
from tests.amounts.rooms import TODAY, make_feed, make_room, make_tank

ALL_KINDS: tuple[Kind, ...] = ("biofilm", "powder", "suspension", "mineral", "staple", "protein", "greens")
ADULTS = Presence("adult", 20)
SHRIMPLETS = Presence("shrimplet", 30)


def one_of(*kinds: Kind) -> tuple[Feed, ...]:
    return tuple(make_feed(kind, kind) for kind in kinds)


def a_room(feeds: tuple[Feed, ...], *animals: Presence, **changes: Any) -> tuple[Room, Tank]:
    tank = make_tank("a1", feeds, animals=animals or (ADULTS, SHRIMPLETS), **changes)
    return make_room(feeds, tank), tank


def clocks(*feeds: Feed, animals: tuple[Presence, ...] = (ADULTS, SHRIMPLETS), **changes: Any) -> dict[str, TankClock]:
    return clocks_of(*a_room(feeds, *animals, **changes))


def numbers(clock: TankClock) -> tuple[int, int | None, float | None]:
    return clock.rules.min_gap, clock.rules.max_gap, clock.rules.per_week


def wanted(clock: TankClock, first: date = TODAY, days: int = 28) -> list[int]:
    return list(days_within(clock.spans, first, first + timedelta(days=days - 1)))


def test_the_table_is_that_of_the_rules() -> None:
    table = {
        name: (rules.min_gap, rules.max_gap, rules.per_week, rules.overdue, rules.rotate)
        for name, rules in DEFAULT_CLOCKS.items()
    }
    assert table == {
        "first_fine": (0, 2, 7, 300, False),
        "fine": (0, 2, 5, 300, False),
        "film": (2, 5, 2, 50, True),
        "powder": (1, None, None, None, True),
        "fan": (1, 3, 3, 200, True),
        "ground": (0, 3, 5, 200, False),
        "staple": (2, None, None, None, True),
        "protein": (4, 10, 1, 50, True),
        "greens": (3, 9, 1.5, 50, True),
        "mineral": (2, 8, 1.5, 100, True),
    }


def test_a_tank_of_everything_with_all_kinds_has_the_table_as_it_is() -> None:
    found = clocks(*one_of(*ALL_KINDS), animals=(ADULTS, SHRIMPLETS, Presence("filter_feeder", 3)))
    assert set(found) == set(DEFAULT_CLOCKS) - {"first_fine"}
    assert {name: numbers(clock) for name, clock in found.items()} == {
        name: (rules.min_gap, rules.max_gap, rules.per_week) for name, rules in DEFAULT_CLOCKS.items() if name in found
    }
    assert found["ground"].feeds == ("staple", "protein", "greens")
    assert found["fine"].feeds == ("biofilm", "powder")
    assert found["mineral"].feeds == ("mineral",)


def test_a_kind_without_a_feed_has_no_clock_and_a_need_without_animals_neither() -> None:
    assert set(clocks(*one_of("powder", "staple"))) == {"fine", "powder", "ground", "staple"}
    assert set(clocks(*one_of(*ALL_KINDS), animals=(ADULTS,))) == {"ground", "staple", "protein", "greens", "mineral"}
    assert set(clocks(*one_of(*ALL_KINDS), animals=(Presence("filter_feeder", 2),))) == {"fan"}
    assert clocks(*one_of("suspension")) == {}


def test_three_staples_are_one_need_and_take_turns() -> None:
    feeds = (make_feed("a", "staple"), make_feed("b", "staple"), make_feed("c", "staple"))
    found = clocks(*feeds, animals=(ADULTS,))
    assert set(found) == {"ground", "staple"}
    assert found["staple"].feeds == found["ground"].feeds == ("a", "b", "c")
    assert found["staple"].rules.rotate


def test_a_single_staple_may_be_given_on_five_days_a_week() -> None:
    assert numbers(clocks(*one_of("staple"), animals=(ADULTS,))["staple"])[0] == 1


def test_staples_fill_what_protein_and_greens_leave_of_the_five_days() -> None:
    """With protein and greens 5 - 1 - 1.5 = 2.5 days are left, so every other day does; with protein alone 4 are."""
    assert numbers(clocks(*one_of("staple", "protein", "greens"))["staple"])[0] == 2
    assert numbers(clocks(*one_of("staple", "protein"))["staple"])[0] == 1
    assert numbers(clocks(*one_of("staple", "greens"))["staple"])[0] == 2


def test_without_a_staple_protein_and_greens_take_over_in_proportion() -> None:
    """1 and 1.5 days a week become 2 and 3 of the five, every third and every second day."""
    found = clocks(*one_of("protein", "greens"))
    assert numbers(found["protein"]) == (3, 10, 2)
    assert numbers(found["greens"]) == (2, 9, 3)


def test_a_kind_alone_at_its_table_leaves_the_weeks_target_to_the_table() -> None:
    assert numbers(clocks(*one_of("greens"))["greens"]) == (1, 9, None)
    assert numbers(clocks(*one_of("biofilm"))["film"]) == (1, 5, None)


def test_a_shortest_gap_that_the_keeper_wrote_does_not_fall() -> None:
    own = {"staple": replace(DEFAULT_CLOCKS["staple"], min_gap=2, min_gap_falls=False)}
    assert numbers(clocks(*one_of("staple"), animals=(ADULTS,), clocks=own)["staple"])[0] == 2


def test_fine_feed_is_wanted_daily_for_fourteen_days_after_a_hatch_and_then_as_usual() -> None:
    hatched = Presence("shrimplet", 30, first=TODAY, last=TODAY + timedelta(days=40))
    found = clocks(*one_of("biofilm", "powder"), animals=(ADULTS, hatched))
    assert wanted(found["first_fine"]) == list(range(14))
    assert wanted(found["fine"]) == list(range(14, 28))
    assert numbers(found["first_fine"]) == (0, 2, 7)


def test_the_first_days_count_from_the_hatch_that_was_written_down() -> None:
    moved_in = Presence("shrimplet", 30, first=TODAY, hatched=TODAY - timedelta(days=10))
    found = clocks(*one_of("powder"), animals=(moved_in,))
    assert wanted(found["first_fine"]) == [0, 1, 2, 3]
    assert wanted(found["fine"])[0] == 4


def test_older_shrimplets_beside_new_ones_want_no_second_fine_feed_on_the_same_day() -> None:
    young = Presence("shrimplet", 30, first=TODAY + timedelta(days=5))
    found = clocks(*one_of("powder"), animals=(SHRIMPLETS, young))
    assert wanted(found["first_fine"]) == list(range(5, 19))
    assert wanted(found["fine"]) == [*range(5), *range(19, 28)]


def test_film_is_begun_five_days_before_an_expected_hatch() -> None:
    expected = Presence("shrimplet", 30, first=TODAY + timedelta(days=10))
    feeds = one_of("biofilm", "powder")
    room, tank = a_room(feeds, ADULTS, expected)
    found = clocks_of(room, tank)
    assert wanted(found["film"]) == list(range(5, 28))
    film, powder = (days_within(feed_spans(tank, found, feed), TODAY, TODAY + timedelta(days=27)) for feed in feeds)
    assert film == tuple(range(5, 28))
    assert powder == tuple(range(10, 28))


@pytest.mark.parametrize(("grazing", "days"), [("poor", 28), ("fair", 0), ("rich", 0)])
def test_juveniles_want_fine_feed_only_where_grazing_is_poor(grazing: Grazing, days: int) -> None:
    found = clocks(*one_of("powder"), animals=(Presence("juvenile", 30),), grazing=grazing)
    assert len(wanted(found["fine"])) == days if "fine" in found else days == 0


def test_film_keeps_to_its_days_where_juveniles_on_poor_grazing_get_fine_feed() -> None:
    found = clocks(*one_of("biofilm", "powder"), animals=(Presence("juvenile", 30),), grazing="poor")
    assert set(found) == {"fine", "film", "powder"}
    assert numbers(found["film"]) == (2, 5, 2)


def test_a_feed_for_other_animals_does_not_answer_a_need() -> None:
    juveniles_only = make_feed("crumble", "staple", stages=frozenset(("juvenile",)))
    young = Presence("juvenile", 9, first=TODAY + timedelta(days=3))
    found = clocks(juveniles_only, animals=(ADULTS, young))
    assert wanted(found["ground"])[0] == 3


def test_the_keepers_own_week_on_the_only_feed_of_a_kind_is_that_of_the_need() -> None:
    found = clocks(*one_of("staple", "greens"), make_feed("bug", "protein", per_week=2.0, max_gap=5))
    assert set(found) == {"fine", "ground", "staple", "protein", "greens"} - {"fine"}
    assert numbers(found["protein"]) == (3, 5, 2)


def test_a_week_with_fewer_days_than_the_longest_gap_allows_makes_the_gap_longer() -> None:
    found = clocks(make_feed("drift", "suspension", per_week=1.5), animals=(Presence("filter_feeder", 3),))
    assert numbers(found["fan"]) == (1, 5, 1.5)


def test_the_keepers_own_week_on_one_of_several_feeds_is_a_need_of_its_own() -> None:
    found = clocks(*one_of("protein"), make_feed("bug", "protein", per_week=0.5, max_gap=14), make_feed("s", "staple"))
    assert found["feed:bug"].feeds == ("bug",)
    assert numbers(found["feed:bug"]) == (1, 14, 0.5)
    assert found["feed:bug"].rules.overdue == 50
    assert found["protein"].feeds == ("protein", "bug")
    assert numbers(found["protein"])[2] == 1


def test_a_table_asks_for_no_more_than_the_keepers_own_words_on_all_its_feeds() -> None:
    found = clocks(make_feed("dust", "powder", per_week=3.0))
    assert numbers(found["fine"]) == (0, 3, 3)
    assert numbers(found["powder"]) == (1, None, 3)


def test_an_extra_has_a_need_of_its_own_about_once_a_week_and_answers_no_other() -> None:
    leaf = make_feed("leaf", "greens", extra=True, share=0.0, most=0.0)
    found = clocks(leaf, *one_of("staple"))
    assert set(found) == {"ground", "staple", "feed:leaf"}
    assert found["ground"].feeds == ("staple",)
    assert numbers(found["feed:leaf"]) == (5, 14, 1)


def test_a_tanks_own_clock_stands_before_the_rooms() -> None:
    feeds = one_of("powder")
    own = {"fine": replace(DEFAULT_CLOCKS["fine"], per_week=3)}
    room, tank = a_room(feeds, clocks=own)
    room = replace(room, clocks=DEFAULT_CLOCKS | {"fine": replace(DEFAULT_CLOCKS["fine"], per_week=6, max_gap=4)})
    assert numbers(clocks_of(room, tank)["fine"]) == (0, 2, 3)
    assert numbers(clocks_of(room, replace(tank, clocks={}))["fine"]) == (0, 4, 6)
