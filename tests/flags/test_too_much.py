"""Flags of what was too much or too soon."""

from __future__ import annotations

from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.ledger.entries import Undone
from schedules.review.flags import Flag, flags
from schedules.review.flags.types import RANK
from schedules.room import Presence
from schedules.wording.flags import advice_text, evidence_text
from tests.amounts.rooms import TODAY, Past, at, days_ago, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
WAFER = make_feed("wafer", "staple", min_gap=2)
LEAF = make_feed("leaf", "greens")
FLAKE = make_feed("flake", "staple")
GRUB = make_feed("grub", "protein")
FEEDS = (DUST, WAFER, FLAKE, GRUB, LEAF)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS), make_tank("a2", FEEDS))


TOO_MUCH = ("over_ration", "doubled", "under_gap", "under_clock_gap", "week_over_target", "leftovers")


def too_much(past: Past) -> list[Flag]:
    return [flag for flag in flags(ROOM, past.history(), at(TODAY)) if flag.kind in TOO_MUCH]


def kinds(past: Past) -> list[tuple[str, str, str | None, date]]:
    return [flag.key for flag in too_much(past)]


def test_a_quiet_week_has_no_flags_of_too_much() -> None:
    past = Past().gave("a1", WAFER, days_ago(5), 0.6).gave("a1", FLAKE, days_ago(3), 0.6).gave("a1", DUST, TODAY, 0.3)
    assert kinds(past) == []


def test_a_day_above_the_ration_is_flagged_with_what_was_given_when_and_by_whom() -> None:
    past = Past().gave("a1", WAFER, days_ago(1), 0.9).gave("a1", FLAKE, days_ago(1), 0.3)
    flag = next(found for found in flags(ROOM, past.history(), at(TODAY)) if found.kind == "over_ration")
    assert (flag.tank, flag.feed, flag.day, flag.severity) == ("a1", None, days_ago(1), "medium")
    assert "1.20 of the day's ration" in evidence_text(ROOM, flag)
    assert "Wafer 0.90 (Tue 24 Nov 07:05, Mara)" in evidence_text(ROOM, flag)
    assert advice_text(ROOM, flag) == "Look for leftovers and let the next solid feed go if there are any."


def test_each_table_has_a_ration_of_its_own_and_only_solid_feed_is_taken_out_again() -> None:
    apart = Past().gave("a1", WAFER, TODAY, 0.9).gave("a1", DUST, TODAY, 0.9)
    assert "over_ration" not in [flag.kind for flag in flags(ROOM, apart.history(), at(TODAY))]
    fine = Past().gave("a1", DUST, TODAY, 1.2)
    advice = next(
        advice_text(ROOM, flag) for flag in flags(ROOM, fine.history(), at(TODAY)) if flag.kind == "over_ration"
    )
    assert "take out" not in advice.lower()
    assert "two days" in advice
    solid = Past().gave("a1", WAFER, TODAY, 1.2)
    advice = next(
        advice_text(ROOM, flag) for flag in flags(ROOM, solid.history(), at(TODAY)) if flag.kind == "over_ration"
    )
    assert "take out" in advice


def test_exactly_the_ration_is_no_flag_despite_rounding() -> None:
    past = Past()
    for share in (0.1, 0.2, 0.7):
        past.gave("a1", DUST, TODAY, share, round=f"round {share}")
    assert "over_ration" not in [flag.kind for flag in flags(ROOM, past.history(), at(TODAY))]


def test_the_same_feed_twice_in_a_round_is_a_doubling_and_not_a_gap() -> None:
    past = Past().gave("a1", DUST, TODAY, 0.3).gave("a1", DUST, TODAY, 0.3, broke="again")
    assert kinds(past) == [("doubled", "a1", "dust", TODAY)]


def test_an_undone_doubling_is_no_flag() -> None:
    past = Past().gave("a1", DUST, TODAY, 0.3).gave("a1", DUST, TODAY, 0.3, broke="again").write(Undone(2), TODAY)
    assert kinds(past) == []


def test_two_servings_of_a_feed_under_its_gap_are_flagged_on_the_later_day() -> None:
    past = Past().gave("a1", WAFER, days_ago(2), 0.6).gave("a1", WAFER, days_ago(1), 0.6)
    found = too_much(past)
    assert [flag.key for flag in found] == [("under_gap", "a1", "wafer", days_ago(1))]
    assert "1 day after" in evidence_text(ROOM, found[0])
    assert "its gap is 2 days" in evidence_text(ROOM, found[0])


def test_a_serving_on_the_gap_itself_is_no_flag() -> None:
    assert kinds(Past().gave("a1", WAFER, days_ago(3), 0.6).gave("a1", WAFER, days_ago(1), 0.6)) == []


def test_two_feeds_that_take_turns_under_their_gap_are_flagged() -> None:
    past = Past().gave("a1", WAFER, days_ago(2), 0.3).gave("a1", FLAKE, days_ago(1), 0.3)
    assert kinds(past) == [("under_clock_gap", "a1", "flake", days_ago(1))]


def test_feeds_that_take_turns_in_different_tanks_do_not_meet() -> None:
    assert kinds(Past().gave("a1", WAFER, days_ago(2), 0.3).gave("a2", FLAKE, days_ago(1), 0.3)) == []


def test_the_same_feed_within_the_gap_of_its_kind_is_flagged_too() -> None:
    past = Past().gave("a1", GRUB, days_ago(3), 0.3).gave("a1", GRUB, days_ago(1), 0.3)
    assert ("under_clock_gap", "a1", "grub", days_ago(1)) in kinds(past)


def test_a_week_over_its_target_by_more_than_a_day_is_flagged_once_whatever_was_given() -> None:
    """Fine feed is wanted on five days a week (the default table; common practice, no source)."""
    film = make_feed("film", "biofilm")
    room = make_room((DUST, film), make_tank("a1", (DUST, film)))
    past = Past()
    for day in range(9, 2, -1):
        past.gave("a1", DUST if day > 4 else film, days_ago(day), 0.3)
    found = [flag for flag in flags(room, past.history(), at(TODAY)) if flag.kind == "week_over_target"]
    assert [(flag.tank, flag.feed, flag.severity) for flag in found] == [("a1", "film", "low")]
    assert "Dust or Film on 7 days of the week of Mon 16 Nov, target 5" in evidence_text(room, found[0])


def test_one_day_above_the_weekly_target_is_let_pass() -> None:
    past = Past()
    for day in (9, 8, 7, 6, 5, 4):
        past.gave("a1", DUST, days_ago(day), 0.3)
    assert kinds(past) == []


def test_days_of_the_first_weeks_do_not_count_for_the_weeks_after_them() -> None:
    hatched = Presence("shrimplet", 30, first=days_ago(20))  # daily fine feed up to Thursday 19 Nov
    room = make_room((DUST,), make_tank("a1", (DUST,), animals=(hatched,)))
    past = Past()
    for day in range(9, 2, -1):
        past.gave("a1", DUST, days_ago(day), 0.3)
    assert [flag for flag in flags(room, past.history(), at(TODAY)) if flag.kind == "week_over_target"] == []


def test_what_lies_before_the_days_looked_at_is_not_flagged_again() -> None:
    past = Past().gave("a1", DUST, days_ago(9), 0.9).gave("a1", DUST, days_ago(9), 0.9)
    assert kinds(past) == []
    assert flags(ROOM, past.history(), at(TODAY), days_back=9) != ()


def test_leftovers_are_flagged_by_the_worst_report_of_the_day() -> None:
    past = Past().gave("a1", WAFER, TODAY, 0.6)
    past.saw("a1", WAFER, TODAY, "some").saw("a1", WAFER, TODAY, "most").saw("a1", WAFER, TODAY, "none")
    found = too_much(past)
    assert [(flag.kind, flag.severity) for flag in found] == [("leftovers", "medium")]
    assert "most of Wafer was left (Wed 25 Nov 07:45, Mara)" in evidence_text(ROOM, found[0])


def test_leftovers_of_none_are_no_flag() -> None:
    assert kinds(Past().gave("a1", WAFER, TODAY, 0.6).saw("a1", WAFER, TODAY, "none")) == []


def test_a_feed_or_tank_that_left_the_room_does_not_trouble_the_flags() -> None:
    gone = make_feed("gone", "staple")
    past = Past().gave("a1", gone, TODAY, 0.6).gave("a1", gone, TODAY, 0.6).gave("z9", WAFER, TODAY, 2.0)
    assert kinds(past) == [("over_ration", "a1", None, TODAY)]


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(("a1", "a2")), st.sampled_from(FEEDS), st.integers(0, 12), st.sampled_from((0.2, 0.6, 1.2))
        ),
        max_size=14,
    )
)
def test_flags_are_worst_first_each_with_evidence_on_one_line_and_no_key_twice(
    servings: list[tuple[str, object, int, float]],
) -> None:
    past = Past()
    for tank, feed, ago, share in sorted(servings, key=lambda each: -each[2]):
        past.gave(tank, feed, days_ago(ago), share)  # type: ignore[arg-type]
    found = flags(ROOM, past.history(), at(TODAY))
    assert [RANK[flag.severity] for flag in found] == sorted(RANK[flag.severity] for flag in found)
    assert len({flag.key for flag in found}) == len(found)
    assert all(evidence_text(ROOM, flag) and "\n" not in evidence_text(ROOM, flag) for flag in found)
