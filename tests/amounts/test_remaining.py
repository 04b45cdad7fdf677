"""What may still be given of a due serving, as a whole value, once something was given or lies there.

Pellets weigh 60 mg and break in halves; parts are of a ration of 100 mg (see `tests.amounts.rooms`).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from schedules.amounts.ration import Remaining, given_part, remaining_amount
from schedules.amounts.ration.hold import Hold, hold_on
from schedules.amounts.ration.remaining import still_due
from schedules.amounts.ration.serving import Amount
from schedules.ledger.entries import PostedServing, Reason, Skipped
from schedules.room import Tools
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
WAFER, FLAKE, GRUB = (make_feed(name, "staple") for name in ("wafer", "flake", "grub"))
FEEDS = (DUST, WAFER, FLAKE, GRUB)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS), make_tank("a2", FEEDS))
PELLET = due("a1", WAFER, 0.6, 60)
OTHER = due("a1", FLAKE, 0.4, 60)


def left(past: Past, serving: PostedServing = PELLET) -> Remaining:
    return remaining_amount(ROOM, past.history(), serving, TODAY)


def posted(*servings: PostedServing) -> Past:
    return Past().posted(TODAY, servings or (PELLET, OTHER))


def as_posted(serving: PostedServing = PELLET) -> Remaining:
    return Remaining(Amount(serving.amount, serving.unit, serving.amount_mg, serving.part), None)


def test_with_nothing_given_everything_stays_as_posted() -> None:
    assert left(posted()) == as_posted()
    assert left(posted(), OTHER) == as_posted(OTHER)


def test_all_that_is_due_at_the_table_shrinks_alike_by_what_is_left() -> None:
    """0.7 is taken, 0.3 is left for 1.0: of 60 mg 18 are wanted, the nearest part that is not nothing is 30 mg."""
    past = posted().gave("a1", GRUB, TODAY, 0.3, planned=False).gave("a1", GRUB, TODAY, 0.4, planned=False)
    found = left(past)
    assert found.reason == Reason("took")
    assert dict(found.took) == {"grub": pytest.approx(0.7)}
    assert found.amount == Amount(0.5, "pellet", 30.0, pytest.approx(0.18))  # type: ignore[arg-type]
    assert left(past, OTHER).amount.part == pytest.approx(0.12)


def test_less_than_half_of_the_smallest_part_is_nothing_and_half_of_it_is_that_part() -> None:
    """A quarter of 60 mg is half of the smallest part of 30 mg."""
    quarter = posted().gave("a1", GRUB, TODAY, 0.75)
    assert left(quarter).amount == Amount(0.5, "pellet", 30.0, 0.15)
    less = posted().gave("a1", GRUB, TODAY, 0.76)
    assert left(less).amount == Amount(0.0, "pellet", 0.0, 0.0)
    full = posted().gave("a1", GRUB, TODAY, 1.4)
    assert left(full).amount == Amount(0.0, "pellet", 0.0, 0.0)


def test_what_was_posted_below_the_smallest_part_is_never_raised_to_it() -> None:
    small = due("a1", WAFER, 0.6, 12)
    past = posted(small, OTHER).gave("a1", GRUB, TODAY, 0.3)
    assert left(past, small).amount == Amount(0.2, "pellet", 12.0, pytest.approx(0.42))  # type: ignore[arg-type]


def test_fine_feed_out_of_a_mix_shrinks_to_a_dose_of_the_mix() -> None:
    fine = due("a1", DUST, 0.8, 80)
    room = replace(ROOM, tools=Tools())
    past = posted(fine).gave("a1", DUST, TODAY, 0.6, round="evening")
    found = remaining_amount(room, past.history(), fine, TODAY)
    assert found.amount.mixed and 0 < found.amount.mg <= 40
    assert found.amount.measures == pytest.approx(found.amount.mg / 120)
    assert found.amount.part == pytest.approx(0.8 * found.amount.mg / 80)


def test_what_fits_exactly_is_not_touched() -> None:
    past = posted(PELLET).gave("a1", GRUB, TODAY, 0.4)
    assert left(past) == as_posted()
    assert left(posted(PELLET).gave("a1", GRUB, TODAY, 0.41)).reason == Reason("took")


def test_what_is_given_or_skipped_asks_for_nothing_any_more() -> None:
    past = posted().write(Skipped("a1", "flake", "morning", Reason.other("none left")), TODAY)
    assert still_due(past.history(), "a1", TODAY) == (PELLET,)
    assert left(past.gave("a1", GRUB, TODAY, 0.4)) == as_posted(), "0.6 is left for it alone"
    given = posted().gave("a1", FLAKE, TODAY, 0.4)
    assert still_due(given.history(), "a1", TODAY) == (PELLET,)
    evening = posted().gave("a1", FLAKE, TODAY, 0.1, round="evening")
    assert still_due(evening.history(), "a1", TODAY) == (PELLET, OTHER), "a serving of another round"


def test_other_tanks_tables_and_days_take_nothing_and_a_feed_that_left_the_stock_takes_everywhere() -> None:
    past = Past().gave("a2", GRUB, TODAY, 0.9).gave("a1", DUST, TODAY, 0.8).gave("a1", GRUB, days_ago(1), 0.7)
    gone = make_feed("gone", "greens")
    assert given_part(ROOM, past.history(), "a1", "ground", TODAY) == 0
    assert given_part(ROOM, past.history(), "a1", "fine", TODAY) == 0.8
    past.gave("a1", gone, TODAY, 0.1)
    assert given_part(ROOM, past.history(), "a1", "ground", TODAY) == 0.1
    assert given_part(ROOM, past.history(), "a1", "fine", TODAY) == pytest.approx(0.9)


def test_leftovers_hold_all_of_it() -> None:
    past = posted().gave("a1", GRUB, days_ago(1), 0.4).saw("a1", GRUB, days_ago(1), "most")
    held = Reason.of("held", feed="grub")
    assert left(past) == Remaining(Amount(0.0, "pellet", 0.0, 0.0, note=held), held)


@pytest.mark.parametrize(
    "serving",
    [due("gone", WAFER, 0.6, 60), due("a1", make_feed("gone", "staple"), 0.6, 60), due("a1", WAFER, 0.0, 60)],
    ids=["a tank that left", "a feed that left", "an extra"],
)
def test_what_has_no_ration_to_fit_into_stays_as_posted(serving: PostedServing) -> None:
    past = posted(serving, OTHER).gave("a1", GRUB, TODAY, 1.5)
    assert left(past, serving) == as_posted(serving)


def test_a_serving_that_is_not_due_any_more_is_measured_against_what_is_left_by_itself() -> None:
    past = Past().gave("a1", GRUB, TODAY, 0.7)
    assert left(past).amount.part == pytest.approx(0.3)


def test_of_two_feeds_that_were_mostly_left_the_later_report_holds_longest() -> None:
    past = Past().saw("a1", WAFER, days_ago(1), "most").saw("a1", FLAKE, TODAY, "most")
    assert hold_on(ROOM, past.history(), "a1", GRUB, TODAY) == Hold("flake", TODAY, TODAY + timedelta(days=2))
    other = Past().saw("a1", FLAKE, days_ago(1), "most").saw("a1", WAFER, TODAY, "most")
    assert hold_on(ROOM, other.history(), "a1", GRUB, TODAY) == Hold("wafer", TODAY, TODAY + timedelta(days=2))
