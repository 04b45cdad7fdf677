"""What was different before animals died: readings, water and packs beside feeds, moves and keepers."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from schedules.history import History
from schedules.ledger import Entry, Opened, Reading, SaltAdded, Sighting, WaterAdded, WaterChanged
from schedules.review.changes import Difference, differences
from schedules.room import Rack
from schedules.wording.animals.changes import difference_text
from tests.amounts.rooms import TODAY, Past, days_ago, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
TANKS = ("a1", "a2", "a3")
ROOM = make_room((DUST,), *(replace(make_tank(tank, (DUST,)), litres=40.0) for tank in TANKS))
DAYS = 14


def dead(*tanks: str) -> Past:
    past = Past()
    for tank in tanks:
        past.write(Sighting(tank, "dead", "adult", 2, True), days_ago(1))
    return past


def history(past: Past, *water: tuple[date, Reading | WaterAdded | WaterChanged | SaltAdded]) -> History:
    held = past.history()
    at = held.entries[0].at
    return replace(
        held, water=tuple(Entry(900 + n, 900 + n, day, at, "Mara", what) for n, (day, what) in enumerate(water))
    )


def found(of: History, *kinds: str) -> list[Difference]:
    return [each for each in differences(ROOM, of, "a1", TODAY, DAYS) if not kinds or each.kind in kinds]


def steady(tank: str, value: float, last: float) -> list[tuple[date, Reading]]:
    """A conductivity that stayed for eight weeks and jumped two days ago."""
    days = [days_ago(2 + 7 * week) for week in range(8, 0, -1)]
    reads = [(day, Reading(tank, "conductivity", value + number % 2)) for number, day in enumerate(days)]
    return [*reads, (days_ago(2), Reading(tank, "conductivity", last))]


def test_water_changed_added_and_salted_before_a_death_is_listed_with_its_source() -> None:
    of = history(
        dead("a1"),
        (days_ago(3), WaterChanged("a1", 20.0, "tap")),
        (days_ago(3), WaterAdded("a1", 2.0)),
        (days_ago(3), SaltAdded("a1", "gh", 1.5)),
        (days_ago(20), WaterChanged("a1", 5.0, "tap")),
    )
    listed = found(of, "water_changed", "water_added", "salt_added")
    assert [(each.kind, each.day, each.what) for each in listed] == [
        ("water_changed", days_ago(3), "tap"),
        ("water_added", days_ago(3), None),
        ("salt_added", days_ago(3), "gh"),
    ]
    assert "20 L" in difference_text(ROOM, listed[0])


def test_what_troubled_tanks_share_comes_first_and_what_others_had_is_left_out() -> None:
    water = [(days_ago(4), WaterChanged(tank, 20.0, "tap")) for tank in TANKS]
    of = history(dead("a1", "a2"), *water, (days_ago(4), WaterAdded("a1", 1.0)))
    listed = found(of)
    assert [each.shared for each in listed] == sorted((each.shared for each in listed), reverse=True)
    assert {each.tank for each in listed if each.kind == "water_changed" and each.shared == 2} == {"a1", "a2"}
    assert {each.tank for each in listed} == {"a1", "a2"}


def test_a_reading_that_left_its_tanks_own_past_is_a_difference_and_a_steady_one_is_none() -> None:
    jumped = found(history(dead("a1"), *steady("a1", 280.0, 420.0)), "water_read")
    assert [(each.tank, each.what, each.day) for each in jumped] == [("a1", "conductivity", days_ago(2))]
    assert "from" in difference_text(ROOM, jumped[0]) and "420" in difference_text(ROOM, jumped[0])
    assert found(history(dead("a1"), *steady("a1", 280.0, 281.0)), "water_read") == []


def test_a_reading_that_moved_long_ago_is_no_news() -> None:
    reads = [(day - timedelta(days=30), what) for day, what in steady("a1", 280.0, 420.0)]
    assert found(history(dead("a1"), *reads), "water_read") == []


def test_a_pack_that_was_opened_counts_for_the_tanks_that_got_of_it_since() -> None:
    past = dead("a1", "a2", "a3").write(Opened("dust", "L7"), days_ago(5))
    for tank, day in (("a1", days_ago(4)), ("a2", days_ago(5)), ("a3", days_ago(6))):
        past.gave(tank, DUST, day, 0.3)
    listed = found(history(past), "opened")
    assert {(each.tank, each.what, each.shared) for each in listed} == {("a1", "dust", 2), ("a2", "dust", 2)}
    assert "given in a1 since" in difference_text(ROOM, listed[0])


def test_other_racks_are_not_looked_at() -> None:
    other = replace(ROOM, racks=(Rack("rack", "Rack", ("a1",)), Rack("far", "Far", ("a2", "a3"))))
    of = history(dead("a1", "a2"), (days_ago(4), WaterAdded("a2", 1.0)))
    assert {each.tank for each in differences(other, of, "a1", TODAY, DAYS)} == {"a1"}
