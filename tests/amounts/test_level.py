"""The controller: half for a new feed, steps up with clean servings, cuts after leftovers."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.amounts.ration import level_of
from schedules.amounts.ration.level import LOWEST, SILENT_TOP, SMALL_STEP, SOME_LEFT, START, STEP_UP
from schedules.ledger.entries import Leftovers
from tests.amounts.rooms import TODAY, Past, days_ago, make_feed, make_tank

WAFER = make_feed("wafer", "staple", share=0.5)
TANK = make_tank("a1", (WAFER,))


def level(past: Past) -> float:
    return level_of(past.history(), TANK, "wafer", WAFER.rules, TODAY).value


def fed(*reports: Leftovers | None, part: float = 1.0) -> Past:
    """Servings three days apart up to three days ago, each with what was reported of it."""
    past = Past()
    for number, report in enumerate(reports):
        day = days_ago(3 * (len(reports) - number))
        past.gave("a1", WAFER, day, 0.5 * part)
        if report is not None:
            past.saw("a1", WAFER, day, report)
    return past


def test_a_feed_new_to_the_tank_starts_at_half() -> None:
    # Common practice, no source: a feed that is new to the tank starts at half the measure of a full feeding day.
    assert level(Past()) == START == 0.5
    assert "new" in level_of(Past().history(), TANK, "wafer", WAFER.rules, TODAY).why


def test_clean_servings_bring_it_to_a_full_serving_step_by_step_and_no_further() -> None:
    clean: tuple[Leftovers, ...] = ("none",) * 8
    levels = [level(fed(*clean[:number], part=0.5)) for number in range(8)]
    assert levels[1] == START + STEP_UP
    assert levels == sorted(levels)
    assert levels[-1] == 1.0


def test_silence_counts_less_than_a_clean_report() -> None:
    assert START < level(fed(None)) < level(fed("none"))


def test_silence_alone_stops_at_three_quarters_where_a_look_would_tell_and_not_where_nothing_can_be_seen() -> None:
    silent = fed(*(None,) * 9, part=0.75).history()
    mixed = make_feed("wafer", "staple", share=0.5, method="premixed")
    assert level_of(silent, TANK, "wafer", WAFER.rules, TODAY).value == SILENT_TOP
    assert level_of(silent, TANK, "wafer", mixed.rules, TODAY).value > SILENT_TOP


def test_leftovers_cut_the_next_amount_below_what_was_left_over() -> None:
    assert level(fed("none", "none", "some", part=0.6)) == SOME_LEFT * 0.6
    assert level(fed("none", "none", "most", part=0.6)) < SOME_LEFT * 0.6


def test_silence_never_brings_it_back_to_what_left_something() -> None:
    assert level(fed("some", *[None] * 8, part=0.5)) < 0.5


def test_near_what_left_something_clean_servings_raise_it_by_small_steps_only() -> None:
    one, two = fed("some", "none", "none", part=0.5), fed("some", "none", "none", "none", part=0.5)
    assert level(two) - level(one) <= SMALL_STEP + 1e-9


def test_a_small_serving_that_left_nothing_is_no_ground_to_give_more_than_planned() -> None:
    assert level(fed("none", part=0.1)) == START


def test_a_feed_given_for_longer_than_the_ledger_looks_back_does_not_start_at_half_again() -> None:
    past = Past().gave("a1", WAFER, days_ago(100), 0.5).gave("a1", WAFER, days_ago(10), 0.4)
    past.gave("a1", WAFER, days_ago(7), 0.9)
    assert level(past) == 0.8


def test_todays_serving_is_not_yet_judged() -> None:
    past = Past().gave("a1", WAFER, TODAY, 0.25)
    assert level(past) == START


REPORTS: tuple[Leftovers | None, ...] = ("none", None, "some", "most")
WORSE = {"none": 0, None: 1, "some": 2, "most": 3}


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(REPORTS), st.sampled_from(REPORTS), st.floats(0.05, 2.5)), max_size=15))
def test_more_leftovers_never_raise_a_later_amount(
    servings: list[tuple[Leftovers | None, Leftovers | None, float]],
) -> None:
    cleaner, dirtier = Past(), Past()
    for number, (one, other, part) in enumerate(servings):
        day = days_ago(len(servings) - number)
        for past, report in (
            (cleaner, min(one, other, key=WORSE.__getitem__)),
            (dirtier, max(one, other, key=WORSE.__getitem__)),
        ):
            past.gave("a1", WAFER, day, 0.5 * part)
            if report is not None:
                past.saw("a1", WAFER, day, report)
    assert level(dirtier) <= level(cleaner)
    assert LOWEST <= level(dirtier) <= 1.0
