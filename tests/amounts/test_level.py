"""The controller: half for a new feed, steps up with clean servings, cuts after leftovers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.amounts.ration import level_of
from schedules.amounts.ration.level import (
    LOWEST,
    MOST_LEFT,
    SILENT_STEP,
    SILENT_TOP,
    SMALL_STEP,
    SOME_LEFT,
    START,
    STEP_UP,
    reported,
)
from schedules.history import LOOK_BACK_DAYS
from schedules.ledger.entries import Leftovers, Response
from schedules.room import Feed
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_tank

WAFER = make_feed("wafer", "staple", share=0.5)
TANK = make_tank("a1", (WAFER,))


def level(past: Past) -> float:
    return level_of(past.history(), TANK, WAFER, TODAY).value


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
    assert level_of(Past().history(), TANK, WAFER, TODAY).why.code == "new_feed"


def test_clean_servings_bring_it_to_a_full_serving_step_by_step_and_no_further() -> None:
    clean: tuple[Leftovers, ...] = ("none",) * 8
    levels = [level(fed(*clean[:number], part=0.5)) for number in range(8)]
    assert levels[1] == START + STEP_UP
    assert levels == sorted(levels)
    assert levels[-1] == 1.0


def test_silence_counts_less_than_a_clean_report() -> None:
    assert START < level(fed(None)) < level(fed("none"))


def test_silence_alone_stops_at_three_quarters_and_says_nothing_after_what_is_stirred_in() -> None:
    silent = fed(*(None,) * 9, part=0.75).history()
    assert level_of(silent, TANK, WAFER, TODAY).value == SILENT_TOP
    for method in ("premixed", "flow"):
        unseen = make_feed("wafer", "staple", share=0.5, method=method)
        assert level_of(silent, make_tank("a1", (unseen,)), unseen, TODAY).value == START


def test_leftovers_cut_the_next_amount_below_what_was_left_over() -> None:
    assert level(fed("none", "none", "some", part=0.6)) == SOME_LEFT * 0.6
    # Levels before the third serving: 0.5, 0.6, 0.7; what was given is 0.6 of a full serving each time.
    assert level(fed("none", "none", "most", part=0.6)) == MOST_LEFT * 0.6 == 0.3


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


def test_a_feed_first_given_on_the_day_the_history_begins_is_no_older_than_that() -> None:
    # On the first day that the history holds everything is known; a day earlier something lies before it.
    first = days_ago(LOOK_BACK_DAYS)
    assert level(Past().gave("a1", WAFER, first, 0.5)) == START + SILENT_STEP
    assert level(Past().gave("a1", WAFER, first - timedelta(days=1), 0.5).gave("a1", WAFER, first, 0.5)) == 1.0


def test_a_known_feed_starts_at_a_full_serving() -> None:
    known = replace(WAFER, known=True)
    assert level_of(Past().history(), TANK, known, TODAY).value == 1.0
    past = Past().gave("a1", known, days_ago(2), 0.5).saw("a1", known, days_ago(2), "some")
    assert level_of(past.history(), TANK, known, TODAY).value == SOME_LEFT


def test_a_known_feed_starts_at_half_in_a_tank_that_was_set_up_later() -> None:
    known = replace(WAFER, known=True)
    later = make_tank("b2", (known,))
    past = Past().gave("a1", known, days_ago(14), 0.5)
    assert level_of(past.history(), later, known, TODAY).value == START
    assert level_of(past.history(), later, known, TODAY).why.code == "new_tank"
    early = Past().gave("a1", known, days_ago(13), 0.5)
    assert level_of(early.history(), later, known, TODAY).value == 1.0
    grub = make_feed("grub", "protein")
    settled = Past().gave("a1", known, days_ago(40), 0.5).gave("b2", grub, days_ago(14), 0.5)
    assert level_of(settled.history(), later, known, TODAY).value == 1.0
    settling = Past().gave("a1", known, days_ago(40), 0.5).gave("b2", grub, days_ago(13), 0.5)
    assert level_of(settling.history(), later, known, TODAY).value == START


def test_a_serving_counts_by_what_was_posted_and_not_by_its_part_of_the_ration() -> None:
    # A tenth of a ration given as posted is a full serving of that day; given in half it is half of one.
    day, posted = days_ago(3), due("a1", WAFER, 0.1, 20)
    past = Past().posted(day, (posted,)).gave("a1", WAFER, day, 0.1, amount_mg=20.0).saw("a1", WAFER, day, "some")
    assert level(past) == SOME_LEFT * START
    half = Past().posted(day, (posted,)).gave("a1", WAFER, day, 0.05, amount_mg=10.0).saw("a1", WAFER, day, "some")
    assert level(half) == SOME_LEFT * START / 2


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


Feedback = tuple[Leftovers | None, Response | None, float]
SAID: tuple[Response | None, ...] = (None, "fast")


def answered(responses: Sequence[Response | None], feed: Feed = WAFER) -> Past:
    """Half servings three days apart up to three days ago, each with how the animals came to it."""
    past = Past()
    for number, response in enumerate(responses):
        day = days_ago(3 * (len(responses) - number))
        past.gave("a1", feed, day, 0.25)
        if response is not None:
            past.came("a1", feed, day, response)
    return past


def test_a_feed_they_came_to_fast_grows_slowly_keeps_it_and_nobody_takes_it_a_step_down() -> None:
    # The steps are common practice, no source.
    assert level(answered(["fast"])) == START + STEP_UP
    assert level(answered(["slowly"])) == START
    assert level(answered(["nobody"])) == START - STEP_UP
    assert level_of(answered(["nobody"]).history(), TANK, WAFER, TODAY).why.code == "nobody_came"


def test_nobody_again_and_again_never_takes_it_below_the_lowest_level() -> None:
    assert level(answered(["nobody"] * 12)) == LOWEST


def test_what_all_was_eaten_later_is_no_reason_for_less_although_nobody_came() -> None:
    day = days_ago(3)
    past = Past().gave("a1", WAFER, day, 0.25).came("a1", WAFER, day, "nobody").saw("a1", WAFER, day, "none")
    assert level(past) == START


def test_fast_never_brings_it_beyond_what_left_something() -> None:
    past = fed("some", part=0.5)
    for ago in (2, 1):
        past.gave("a1", WAFER, days_ago(ago), 0.25).came("a1", WAFER, days_ago(ago), "fast")
    assert level(past) < 0.5


def test_fine_feed_that_is_stirred_in_grows_by_what_is_seen_to_come() -> None:
    dust = make_feed("dust", "powder", share=0.5)
    tank = make_tank("a1", (dust,))
    values = [level_of(answered([said], feed=dust).history(), tank, dust, TODAY).value for said in SAID]
    assert values == [START, START + STEP_UP]


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from((None, "none", "some", "most")),
            st.sampled_from((None, "fast", "slowly", "nobody")),
            st.floats(0.05, 1.5),
        ),
        min_size=1,
        max_size=10,
    ),
    st.integers(0, 9),
)
def test_fewer_that_came_never_lead_to_more(
    days: list[tuple[Leftovers | None, Response | None, float]], at: int
) -> None:
    at %= len(days)

    def with_response(response: Response | None) -> float:
        past = Past()
        for number, (report, came, part) in enumerate(days):
            day, came = days_ago(3 * (len(days) - number)), response if number == at else came
            past.gave("a1", WAFER, day, 0.5 * part)
            if came is not None:
                past.came("a1", WAFER, day, came)
            if report is not None:
                past.saw("a1", WAFER, day, report)
        return level(past)

    found = [with_response("nobody"), with_response("slowly"), with_response("fast")]
    assert found == sorted(found)
    assert all(LOWEST <= each <= 1 for each in found)


def test_what_was_left_before_a_serving_of_the_same_day_is_said_of_the_one_before() -> None:
    past = Past().gave("a1", WAFER, days_ago(4), 0.4).saw("a1", WAFER, TODAY, "most").gave("a1", WAFER, TODAY, 0.4)
    history = past.history()

    said = reported(history, "a1", "wafer", list(history.servings("a1", "wafer")), TODAY)

    assert [(entry.day, report) for (entry, _), report in said] == [(days_ago(4), "most"), (TODAY, None)]
