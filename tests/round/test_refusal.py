"""What stands against giving a feed, with who, when and which rule."""

from __future__ import annotations

from datetime import timedelta

import pytest

from schedules.round import Refusal, give, refusal
from tests.amounts.rooms import TODAY, Past, days_ago, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
FLAKE = make_feed("flake", "staple")
WAFER = make_feed("wafer", "staple")
GRUB = make_feed("grub", "protein")
FEEDS = (DUST, FLAKE, WAFER, GRUB)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS), make_tank("a2", FEEDS))


def stands(past: Past, feed: str, share: float = 0.3) -> Refusal | None:
    return refusal(ROOM, past.history(), "a1", feed, TODAY, share)


def test_nothing_stands_against_a_feed_that_was_never_given() -> None:
    assert stands(Past(), "dust") is None


def test_a_feed_already_given_today_is_refused_with_who_and_when() -> None:
    found = stands(Past().gave("a1", DUST, TODAY, 0.3), "dust")

    assert found == Refusal("again", "already given by Mara at 07:05")


def test_a_feed_within_its_minimum_gap_is_refused_with_the_day_and_the_gap() -> None:
    found = stands(Past().gave("a1", GRUB, days_ago(1), 0.4), "grub")

    assert found == Refusal("min_gap", "given yesterday by Mara at 07:05; 4 days apart at least")


def test_a_gap_counts_from_the_next_serving_back_as_well() -> None:
    past = Past().gave("a1", GRUB, TODAY, 0.4)
    late = refusal(ROOM, past.history(), "a1", "grub", days_ago(2), 0.4)

    assert late is not None and late.rule == "min_gap"


def test_a_gap_that_is_just_over_does_not_stand_against_it() -> None:
    assert stands(Past().gave("a1", GRUB, days_ago(4), 0.4), "grub") is None


def test_another_feed_of_the_rotation_group_given_yesterday_is_named() -> None:
    found = stands(Past().gave("a1", FLAKE, days_ago(1), 0.6), "wafer")

    assert found == Refusal("group_gap", "Flake given yesterday by Mara at 07:05; staples 2 days apart at least")


def test_a_days_ration_that_is_taken_up_is_told_in_numbers() -> None:
    past = Past().gave("a1", GRUB, TODAY, 0.8).gave("a1", DUST, TODAY, 0.3)
    found = stands(past, "flake", 0.6)

    assert found is not None and found.rule == "ration"
    assert found.text == "0.8 of the day's ration is taken, last by Mara at 07:05; this is 0.6, 1 is the most"


def test_shares_that_add_up_to_exactly_one_fit() -> None:
    past = Past().gave("a1", GRUB, TODAY, 0.1).gave("a1", DUST, TODAY, 0.2)

    assert stands(past, "flake", 0.7) is None


def test_most_left_yesterday_holds_back_solid_feed_and_not_powder() -> None:
    past = Past().gave("a1", GRUB, days_ago(1), 0.4).saw("a1", GRUB, days_ago(1), "most")

    found = stands(past, "flake", 0.4)

    assert found is not None and found.rule == "leftovers" and "most of Grub was left yesterday" in found.text
    assert stands(past, "dust") is None


def test_what_another_tank_got_does_not_count() -> None:
    assert stands(Past().gave("a2", DUST, TODAY, 1.0), "dust") is None


@pytest.mark.parametrize("rule", ["again", "min_gap", "group_gap", "ration"])
def test_insisting_records_the_serving_as_extra_and_names_the_rule(rule: str) -> None:
    past = {
        "again": Past().gave("a1", FLAKE, TODAY, 0.1),
        "min_gap": Past().gave("a1", FLAKE, TODAY - timedelta(days=1), 0.1),
        "group_gap": Past().gave("a1", WAFER, TODAY - timedelta(days=1), 0.1),
        "ration": Past().gave("a1", GRUB, TODAY, 1.0),
    }[rule]

    refused = give(ROOM, past.history(), TODAY, "a1", "flake", 1.0)
    insisted = give(ROOM, past.history(), TODAY, "a1", "flake", 1.0, anyway=True)

    assert isinstance(refused, Refusal) and refused.rule == rule
    assert not isinstance(insisted, Refusal) and insisted.broke == rule


def test_insisting_where_nothing_stands_against_it_is_no_extra() -> None:
    served = give(ROOM, Past().history(), TODAY, "a1", "flake", anyway=True)

    assert not isinstance(served, Refusal) and served.broke is None
