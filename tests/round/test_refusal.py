"""What forbids giving a feed, with who, when and which rule."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from schedules.room import Presence, Room
from schedules.round import Refusal, give, refusal
from schedules.round.marks import reason_of
from schedules.round.types import Rule
from schedules.wording.refusals import refusal_text
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
FLAKE = make_feed("flake", "staple")
WAFER = make_feed("wafer", "staple")
GRUB = make_feed("grub", "protein")
LEAF = make_feed("leaf", "greens")
FEEDS = (DUST, FLAKE, WAFER, GRUB, LEAF)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS), make_tank("a2", FEEDS))


def stands(past: Past, feed: str, share: float = 0.3) -> Refusal | None:
    return refusal(ROOM, past.history(), "a1", feed, TODAY, share)


def taken(past: Past, part: float) -> Refusal:
    found = stands(past, "flake", part)
    assert found is not None and found.rule == "ration"
    return found


def said(found: Refusal | None, room: Room = ROOM) -> tuple[str, str]:
    """The rule that forbids a serving, and its words."""
    assert found is not None
    return found.rule, refusal_text(room, found)


def test_nothing_stands_against_a_feed_that_was_never_given() -> None:
    assert stands(Past(), "dust") is None


def test_a_feed_already_given_today_is_refused_with_who_and_when() -> None:
    found = stands(Past().gave("a1", DUST, TODAY, 0.3), "dust")

    assert said(found) == ("again", "already given by Mara at 07:05")


def test_a_feed_within_its_minimum_gap_is_refused_with_the_day_and_the_gap() -> None:
    found = stands(Past().gave("a1", GRUB, days_ago(1), 0.4), "grub")

    assert said(found) == ("clock_gap", "given yesterday by Mara at 07:05; 4 days apart at least")


def test_a_feeds_own_gap_that_the_keeper_set_is_kept_too() -> None:
    dust = make_feed("dust", "powder", min_gap=3)
    room = make_room((dust,), make_tank("a1", (dust,)))
    found = refusal(room, Past().gave("a1", dust, days_ago(2), 0.4).history(), "a1", "dust", TODAY, 0.3)

    assert said(found, room) == ("min_gap", "given Mon 23 Nov by Mara at 07:05; 3 days apart at least")


def test_a_gap_counts_from_the_next_serving_back_as_well() -> None:
    past = Past().gave("a1", GRUB, TODAY, 0.4)
    late = refusal(ROOM, past.history(), "a1", "grub", days_ago(2), 0.4)

    assert late is not None and late.rule == "clock_gap"


def test_a_gap_that_is_just_over_does_not_stand_against_it() -> None:
    assert stands(Past().gave("a1", GRUB, days_ago(4), 0.4), "grub") is None


def test_another_feed_that_takes_turns_with_it_given_yesterday_is_named() -> None:
    found = stands(Past().gave("a1", FLAKE, days_ago(1), 0.6), "wafer")

    assert said(found) == (
        "clock_gap",
        "Flake given yesterday by Mara at 07:05, they take turns; 2 days apart at least",
    )


def test_a_days_ration_that_is_taken_up_is_told_in_numbers() -> None:
    past = Past().gave("a1", GRUB, TODAY, 0.8).gave("a1", DUST, TODAY, 0.3)
    found = replace(taken(past, 0.6), serving=due("a1", FLAKE, 0.6, 72))

    assert (found.taken, found.part) == (0.8, 0.6)
    assert refusal_text(ROOM, found).startswith("0.8 of the day's ration is taken, last by Mara at 07:05; ")
    assert refusal_text(ROOM, found).endswith(" more would make it 1.4")


@pytest.mark.parametrize(
    ("part", "times"), [(1.5, "1.5 times"), (2.0, "twice"), (4.04, "four times"), (30, "30 times")]
)
def test_a_slip_of_the_hand_is_told_as_a_multiple_of_the_ration(part: float, times: str) -> None:
    found = replace(taken(Past(), part), serving=due("a1", FLAKE, part, 72))

    assert refusal_text(ROOM, found).endswith(f" would be {times} the day's ration")


@pytest.mark.parametrize("rule", ["again", "min_gap", "clock_gap", "leftovers", "ration"])
def test_the_ledger_keeps_the_rule_with_its_values_and_no_sentence(rule: Rule) -> None:
    entry = Past().gave("a1", FLAKE, days_ago(1), 0.4).history().entries[0]
    found = Refusal(rule, "wafer", TODAY, "flake", days_ago(1), entry, 2, TODAY, 0.8, 0.6)

    kept = reason_of(found)

    assert (kept.code, kept.get("feed"), kept.get("by")) == (rule, "flake", "Mara")
    assert kept.get("on") == "2026-11-24"
    assert not [value for value in kept.written().values() if " " in str(value)]


def test_shares_that_add_up_to_exactly_one_fit() -> None:
    past = Past().gave("a1", GRUB, TODAY, 0.1).gave("a1", DUST, TODAY, 0.2)

    assert stands(past, "flake", 0.7) is None


def test_most_left_yesterday_holds_back_solid_feed_and_not_powder() -> None:
    past = Past().gave("a1", GRUB, days_ago(1), 0.4).saw("a1", GRUB, days_ago(1), "most")

    found = stands(past, "flake", 0.4)

    assert said(found) == ("leftovers", "most of Grub was left yesterday; solid feed waits until tomorrow")
    assert stands(past, "dust") is None


def test_what_another_tank_got_does_not_count() -> None:
    assert stands(Past().gave("a2", DUST, TODAY, 1.0), "dust") is None


@pytest.mark.parametrize("rule", ["again", "clock_gap", "ration"])
def test_insisting_records_the_serving_as_extra_and_names_the_rule(rule: str) -> None:
    past = {
        "again": Past().gave("a1", FLAKE, TODAY, 0.1),
        "clock_gap": Past().gave("a1", WAFER, TODAY - timedelta(days=1), 0.1),
        "ration": Past().gave("a1", GRUB, TODAY, 1.0),
    }[rule]

    refused = give(ROOM, past.history(), TODAY, "a1", "flake", 1.0)
    insisted = give(ROOM, past.history(), TODAY, "a1", "flake", 1.0, anyway=True)

    assert isinstance(refused, Refusal) and refused.rule == rule
    assert not isinstance(insisted, Refusal) and insisted.broke == rule


def test_insisting_where_nothing_stands_against_it_is_no_extra() -> None:
    served = give(ROOM, Past().history(), TODAY, "a1", "flake", anyway=True)

    assert not isinstance(served, Refusal) and served.broke is None


def test_a_need_that_nobody_in_the_tank_has_keeps_no_gap_between_its_feeds() -> None:
    other = make_feed("mist", "powder")
    with_young = make_tank("a1", (DUST, other))
    without = replace(with_young, animals=(Presence("juvenile", 20),), grazing="rich")
    past = Past().gave("a1", DUST, TODAY, 0.3)

    for tank, rule in ((with_young, "clock_gap"), (without, None)):
        found = refusal(make_room((DUST, other), tank), past.history(), "a1", "mist", TODAY, 0.3)
        assert (found and found.rule) == rule
