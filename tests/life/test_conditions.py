"""What a cohort met in its first days, and cohorts side by side by it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from schedules.history import History
from schedules.ledger import Reading, Reason, Skipped
from schedules.review.survival import Cohort, Conditions, conditions_of, grouped
from schedules.review.survival.conditions import temperature, together
from schedules.review.survival.feeding import FineFeed
from schedules.review.survival.groups import By
from schedules.room import Presence, Water
from schedules.room.heads import Heads
from schedules.wording.animals.survival import began_text, group_label, group_name
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST, PELLET = make_feed("dust", "powder"), make_feed("pellet", "staple")
HATCH = days_ago(12)
YOUNG = Presence("shrimplet", 30, first=HATCH)
ROOM = make_room((DUST, PELLET), replace(make_tank("a1", (DUST, PELLET), animals=(YOUNG,)), water=Water(26.0)))
COHORT = Cohort(1, "a1", HATCH, Heads(30), None, (), (), ())


def planned_daily() -> Past:
    """Dust and a pellet due every day from the hatch on."""
    servings = (due("a1", DUST, 0.3, 30), due("a1", PELLET, 0.3, 30))
    return Past().posted(HATCH, *(servings for _ in range(13)))


def began(past: Past) -> Conditions:
    return conditions_of(ROOM, past.history(), COHORT)


def test_fine_feed_and_rounds_are_counted_from_the_hatch_to_yesterday() -> None:
    """Of twelve days the first is fed, the second skipped, the third had the pellet only; at the others was nobody."""
    past = planned_daily().gave("a1", DUST, HATCH, 0.3)
    past.write(Skipped("a1", "dust", "morning", Reason.other("cloudy")), HATCH + timedelta(days=1))
    found = began(past.gave("a1", PELLET, HATCH + timedelta(days=2), 0.3))

    assert found.fed[14] == FineFeed(12, 12, 1, 11, 10)
    assert found.missed_rounds == 9


def test_a_cohort_that_got_nothing_was_flagged_and_one_that_got_all_was_not() -> None:
    fed = planned_daily()
    for number in range(12):
        day = HATCH + timedelta(days=number)
        fed.gave("a1", DUST, day, 0.3, amount_mg=30).gave("a1", PELLET, day, 0.3, amount_mg=30)
    hungry = planned_daily().gave("a1", PELLET, HATCH - timedelta(days=1), 0.1)

    assert began(hungry).flags > began(fed).flags


def history_with(*readings: tuple[date, float], past: Past | None = None) -> History:
    held = (past or Past()).history()
    written = Past()
    for day, celsius in readings:
        written.write(Reading("a1", "temperature", celsius), day)
    return replace(held, water=tuple(written.entries))


@pytest.mark.parametrize(
    ("readings", "celsius"),
    [
        ((), 26.0),  # what the room file says
        (((HATCH - timedelta(days=9), 22.0),), 22.0),
        (((HATCH - timedelta(days=9), 22.0), (HATCH, 24.0), (HATCH, 25.0), (HATCH + timedelta(days=5), 27.0)), 26.0),
    ],
)
def test_the_temperature_is_the_mean_of_the_first_days_readings_else_what_was_known_before(
    readings: tuple[tuple[date, float], ...], celsius: float
) -> None:
    assert temperature(ROOM, history_with(*readings), "a1", HATCH) == celsius


def test_of_a_tank_that_the_file_knows_no_more_nothing_is_known() -> None:
    found = conditions_of(ROOM, Past().history(), replace(COHORT, tank="gone"))
    assert (found.celsius, found.flags, found.missed_rounds) == (None, 0, 0)


def conditions(celsius: float | None = None, given: int = 9) -> Conditions:
    return Conditions({14: FineFeed(14, 10, given, 1, 0), 30: FineFeed(30, 20, 15, 4, 2)}, 3, 1, celsius)


def names(by: By, *cohorts: tuple[date, float | None]) -> list[str]:
    """The groups of some cohorts by hatch day and temperature, in order."""
    listed = [replace(COHORT, origin=number, day=day) for number, (day, _) in enumerate(cohorts)]
    met = {number: conditions(celsius) for number, (_, celsius) in enumerate(cohorts)}
    return [group_name(group, by) for group in grouped(listed, by, met)]


def test_seasons_are_three_months_each_and_in_the_order_of_the_year() -> None:
    days = [date(2026, month, 5) for month in (9, 8, 6, 5, 3, 2, 1, 12)]
    assert names("season", *((day, None) for day in days)) == [
        "December to February",
        "March to May",
        "June to August",
        "September to November",
    ]


def test_temperatures_come_in_bands_from_cold_to_warm_and_last_what_nobody_measured() -> None:
    found = names("temperature", *((TODAY, celsius) for celsius in (None, 28.0, 21.9, 24.0, 23.9, 26.0)))
    assert found == [
        "under 22 °C",
        "22 to 24 °C",
        "24 to 26 °C",
        "26 to 28 °C",
        "28 °C and over",
        "temperature not known",
    ]


@pytest.mark.parametrize("by", ["tank", "line", "month", "season", "temperature", "feeding"])
def test_every_group_has_a_name_and_a_short_one(by: By) -> None:
    for group in grouped([COHORT], by, {1: conditions(25.0)}):
        assert 0 < len(group_label(group, by)) <= 12 and "_" not in group_name(group, by)


def test_conditions_of_several_cohorts_are_summed() -> None:
    summed = together([conditions(given=9), conditions(given=1)])
    assert (summed.fed[14], summed.missed_rounds, summed.flags) == (FineFeed(28, 20, 10, 2, 0), 6, 2)
    (group,) = grouped([COHORT], "tank", {1: conditions()})
    assert began_text(group) == (
        "90 % of the fine feed given in 14 days and 75 % in 30, 4 days without any, 3 rounds missed, 1 flag"
    )
