"""Nobody came: once it is the appetite, twice in a rack and round it is the water."""

from __future__ import annotations

from schedules.review.flags import Flag, flags
from schedules.wording.flags import advice_text, evidence_text
from tests.amounts.rooms import TODAY, Past, at, days_ago, make_feed, make_room, make_tank

DUST, WAFER = make_feed("dust", "powder"), make_feed("wafer", "staple")
FEEDS = (DUST, WAFER)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS), make_tank("a2", FEEDS), make_tank("b1", FEEDS, rack="other"))


def found(past: Past) -> list[Flag]:
    return [flag for flag in flags(ROOM, past.history(), at(TODAY)) if flag.kind == "nobody_came"]


def test_nobody_in_two_tanks_of_a_rack_is_a_warning_about_water() -> None:
    past = Past().came("a1", WAFER, TODAY, "nobody").came("a2", DUST, TODAY, "nobody")

    (flag,) = found(past)
    assert (flag.tank, flag.severity, flag.day) == ("a2", "high", TODAY)
    assert "nobody came to 2 feeds of rack rack in the morning round" in evidence_text(ROOM, flag)
    assert "water" in advice_text(ROOM, flag)


def test_nobody_once_on_another_day_or_in_another_rack_is_no_flag() -> None:
    assert found(Past().came("a1", WAFER, TODAY, "nobody").came("b1", WAFER, TODAY, "nobody")) == []
    assert found(Past().came("a1", WAFER, days_ago(1), "nobody").came("a2", WAFER, TODAY, "nobody")) == []
    assert found(Past().came("a1", WAFER, TODAY, "slowly").came("a2", WAFER, TODAY, "nobody")) == []


def test_a_later_word_takes_the_earlier_one_back() -> None:
    past = Past().came("a1", WAFER, TODAY, "nobody").came("a2", WAFER, TODAY, "nobody")

    assert found(past.came("a1", WAFER, TODAY, "slowly")) == []


def test_it_is_found_for_a_tank_alone_as_for_the_whole_room() -> None:
    past = Past().came("a1", WAFER, TODAY, "nobody").came("a2", WAFER, TODAY, "nobody")

    alone = [
        flag for tank in ROOM.tanks for flag in flags(ROOM.only(tank), past.history(), at(TODAY)) if flag in found(past)
    ]
    assert alone == found(past)
