"""What to get ready before a round, and when to look back after it."""

from __future__ import annotations

from datetime import timedelta

from schedules.amounts.mixing import look_back, pull_list
from tests.amounts.rooms import TODAY, Past, at, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
STREWN = make_feed("strewn", "powder", method="surface")
WAFER = make_feed("wafer", "staple", gone_after_hours=4)
FEEDS = (DUST, STREWN, WAFER)
ROOM = make_room(
    FEEDS,
    make_tank("q1", FEEDS, quarantine=True),
    make_tank("a1", FEEDS, surface="still"),
    make_tank("a2", FEEDS, surface="broken"),
)
SERVINGS = (
    due("a1", DUST, 0.3, 60),
    due("a2", DUST, 0.3, 80),
    due("q1", DUST, 0.3, 50),
    due("a1", WAFER, 0.6, 30),
    due("a2", WAFER, 0.6, 60),
    due("q1", WAFER, 0.6, 30),
)


def test_the_pull_goes_from_shelf_to_scale_to_jug_to_hand_and_quarantine_comes_last() -> None:
    order = ["shelf", "weigh", "mix", "carry", "quarantine"]
    stages = [pull.stage for pull in pull_list(ROOM, SERVINGS)]
    assert set(stages) == set(order)
    assert stages == sorted(stages, key=order.index)


def test_solid_feed_is_counted_and_quarantines_own_part_is_apart() -> None:
    listed = pull_list(ROOM, SERVINGS)
    assert [pull.text for pull in listed if pull.stage == "carry" and pull.feed == "wafer"] == ["Wafer: 1½ pellets"]
    assert [pull.text for pull in listed if pull.stage == "quarantine" and pull.feed == "wafer"] == ["Wafer: ½ pellet"]
    assert any("into quarantine's cup" in pull.text for pull in listed)


def test_nothing_due_needs_nothing_pulled() -> None:
    assert pull_list(ROOM, ()) == ()


def test_each_solid_feed_is_looked_at_when_it_should_be_gone_in_the_order_of_time() -> None:
    past = Past().gave("a1", WAFER, TODAY, 0.6).gave("a2", STREWN, TODAY, 0.3).gave("a1", STREWN, TODAY, 0.3)
    listed = look_back(ROOM, past.history(), TODAY, at(TODAY, 7, 30))
    assert [(each.tank, each.feed) for each in listed] == [("a2", "strewn"), ("a1", "strewn"), ("a1", "wafer")]
    assert listed[-1].at == at(TODAY) + timedelta(hours=4)
    assert [each.passed for each in listed] == [True, True, False]


def test_powder_on_a_still_surface_is_looked_at_later_than_on_a_broken_one() -> None:
    # Common practice, no source: on a still surface powder floats after a quarter of an hour, an air stone clears it.
    past = Past().gave("a1", STREWN, TODAY, 0.3).gave("a2", STREWN, TODAY, 0.3)
    when = {each.tank: each.at for each in look_back(ROOM, past.history(), TODAY, at(TODAY))}
    assert when["a1"] - at(TODAY) > timedelta(minutes=15) > when["a2"] - at(TODAY)


def test_premixed_powder_spreads_at_once_and_needs_no_look() -> None:
    assert look_back(ROOM, Past().gave("a1", DUST, TODAY, 0.3).history(), TODAY, at(TODAY, 22)) == ()


def test_what_was_reported_on_needs_no_second_look() -> None:
    past = Past().gave("a1", WAFER, TODAY, 0.6).saw("a1", WAFER, TODAY, "none")
    assert look_back(ROOM, past.history(), TODAY, at(TODAY, 12)) == ()
