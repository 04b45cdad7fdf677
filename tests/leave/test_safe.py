"""Which feeds a helper may give, reason by reason, and to the day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import get_args

import pytest

from schedules.leave.safe import Unsafe, times_given, unsafe
from schedules.room import Presence
from schedules.room.kinds import Kind, Method
from tests.amounts.rooms import TODAY, Past, make_feed, make_room, make_tank

FIRST, LAST = TODAY + timedelta(days=2), TODAY + timedelta(days=9)
ANIMALS = (Presence("adult", 40), Presence("shrimplet", 40))


def speaks_against(
    kind: Kind, method: Method | None = None, given: date | None = None, **changes: object
) -> Unsafe | None:
    """What speaks against a feed that is known unless said otherwise."""
    feed = make_feed("x", kind, **({"known": True} | changes))
    tank = make_tank("a", [feed], animals=ANIMALS)
    if method is not None:
        tank = replace(tank, feeds={"x": replace(tank.feeds["x"], method=method)})
    past = Past()
    if given is not None:
        past.gave("a", feed, given, 0.5)
    return unsafe(past.history(FIRST), tank, feed, FIRST, LAST)


def test_what_fouls_and_what_can_wait_is_left_to_the_keeper() -> None:
    found = {kind: speaks_against(kind) for kind in get_args(Kind)}
    assert {kind for kind, against in found.items() if against is None} == {
        "biofilm",
        "powder",
        "staple",
        "suspension",
    }
    assert {against for against in found.values() if against} == {"kind"}


@pytest.mark.parametrize(
    ("kind", "methods"),
    [
        ("biofilm", {"premixed", "surface", "placed"}),
        ("powder", {"premixed", "surface", "placed"}),
        ("staple", {"surface", "placed"}),
        ("suspension", {"premixed", "surface", "flow"}),
    ],
)
def test_a_method_that_takes_practice_is_left_to_the_keeper(kind: Kind, methods: set[Method]) -> None:
    found = {method: speaks_against(kind, method) for method in get_args(Method)}
    assert {method for method, against in found.items() if against is None} == methods
    assert {against for against in found.values() if against} == {"method"}


def test_a_feed_is_new_until_the_tank_was_given_it_before_the_first_day_away() -> None:
    assert speaks_against("powder", known=False) == "never_given"
    assert speaks_against("powder", known=False, given=FIRST) == "never_given"
    assert speaks_against("powder", known=False, given=FIRST - timedelta(days=1)) is None


def test_a_feed_may_be_given_until_the_last_day_away_or_not_at_all() -> None:
    assert speaks_against("powder", best_before=LAST) is None
    assert speaks_against("powder", best_before=LAST - timedelta(days=1)) == "past_date"


def test_feeds_are_counted_over_all_tanks() -> None:
    dust, flake, leaf = make_feed("dust", "powder"), make_feed("flake", "staple"), make_feed("leaf", "greens")
    room = make_room([dust, flake, leaf], *(make_tank(tank, [dust, flake], animals=ANIMALS) for tank in ("a", "b")))
    past = Past()
    past.gave("a", dust, TODAY - timedelta(days=3), 0.5).gave("b", dust, TODAY - timedelta(days=2), 0.5)
    past.gave("a", dust, TODAY - timedelta(days=1), 0.5).gave("b", flake, TODAY - timedelta(days=1), 0.5)
    assert times_given(room, past.history()) == {"dust": 3, "flake": 1, "leaf": 0}
