"""A file of a few kilobytes cannot keep the program busy: every list and every search has an end, said with its line.

Each of these documents took from ten seconds to minutes where nothing bounded the work. No time is measured here: a
document that is too large is refused for the very limit, and `tests.fuzz` gives every document a time limit.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time
from itertools import takewhile
from typing import Any

import pytest
from dateutil.rrule import rrulestr

from schedules.room import Keeper
from schedules.room.days_off import is_off
from schedules.room.recurrence import RuleFault, check_rule, rule_days
from schedules.room_file.schema.base import Spec
from tests.room_file.rooms import faults_of, room_of, room_text


@pytest.mark.parametrize("key", ["a." * 25_000 + "a", "'a' . " * 30 + "a"])
def test_a_key_of_too_many_parts_is_refused_on_its_line(key: str) -> None:
    (fault,) = faults_of(room_text(top=f"{key} = 1\n"))
    assert fault.startswith("3: syntax: found ")
    assert fault.endswith("allowed is a key of at most 16 parts")


def test_a_header_of_too_many_parts_is_refused_on_its_line() -> None:
    (fault,) = faults_of(room_text(top=f"[{'a.' * 5000}a]\n"))
    assert fault.startswith("3: syntax: found a.a.")


def test_a_key_of_too_many_parts_is_found_behind_a_line_that_is_no_toml() -> None:
    (fault,) = faults_of(room_text(top=f"x = oops\n{'a.' * 25_000}a = 1\n"))
    assert fault.startswith("4: syntax: found a.a.")


def test_points_in_texts_and_remarks_are_no_long_key() -> None:
    name = "." * 40
    assert room_of(tank=f'volume = 54 # {name}\nname = "{name}"\n').tanks["moss"].name == name


@pytest.mark.parametrize(
    ("top", "said"),
    [
        (
            "keepers = [{}]\n".format(", ".join(["1"] * 60)),
            "3: keepers[51]: found 60 in one array, allowed are at most 50",
        ),
        (
            "keepers = [{{ name = 'Ada', days_off = [{}] }}]\n".format(", ".join(["'sunday'"] * 201)),
            "3: keepers[1].days_off[201]: found 201 in one array, allowed are at most 200",
        ),
    ],
)
def test_an_array_that_is_too_long_is_refused_at_the_first_too_many(top: str, said: str) -> None:
    assert faults_of(room_text(top=top)) == [said]


def test_every_array_of_a_room_file_has_a_limit() -> None:
    """Whatever array is added to the file's shape must say how long it may be."""
    unlimited = [
        f"{model.__name__}.{name}"
        for model in tables_of(Spec)
        for name, field in model.model_fields.items()
        if "tuple" in f"{field.annotation}" and "at_most" not in f"{field.annotation}{field.metadata}"
    ]
    assert unlimited == []


def tables_of(model: type[Spec]) -> Iterator[type[Spec]]:
    """The models of all tables."""
    for table in model.__subclasses__():
        yield table
        yield from tables_of(table)


def test_more_feeds_than_any_stock_are_refused() -> None:
    feeds = "".join(f'[[feeds]]\nid = "f{number}"\nkind = "powder"\n' for number in range(201))
    (fault,) = faults_of(room_text(feeds=feeds))
    assert fault.endswith("feeds[f200]: found 201 in one array, allowed are at most 200")


def test_more_tanks_than_any_room_are_refused_though_each_rack_has_few() -> None:
    racks = "".join(
        f'[[racks]]\nid = "r{rack}"\ntanks = [\n'
        + "".join(f'{{ id = "{rack}-{tank}", volume = 9 }},\n' for tank in range(2500))
        + "]\n"
        for rack in range(2)
    )
    (fault,) = faults_of(room_text() + racks)
    assert fault.endswith("racks[r1].tanks[1-2499]: found 5001 tanks, allowed is at most 5000 tanks in a room")


def test_more_rules_than_anybody_keeps_are_refused() -> None:
    rules = ", ".join(["'FREQ=WEEKLY'"] * 13)
    keepers = ", ".join(f"{{ name = '{number}', off_from = 2026-01-01, off_rules = [{rules}] }}" for number in range(9))
    assert faults_of(room_text(top=f"keepers = [{keepers}]\n")) == [
        "3: keepers[2].off_rules[12]: found one rule more, allowed is at most 24 rules in a room"
    ]


@pytest.mark.parametrize(
    "rule", ["FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "FREQ=DAILY;INTERVAL=7;BYDAY=MO", "FREQ=MONTHLY;BYDAY=6MO"]
)
def test_a_rule_that_never_comes_is_refused(rule: str) -> None:
    with pytest.raises(RuleFault, match="never names a day"):
        check_rule(rule, date(2026, 1, 1))  # a Thursday


def test_a_rule_that_never_comes_is_looked_for_over_one_turn_of_the_calendar_only(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The Gregorian calendar repeats after 400 years, and no search goes further."""
    import dateutil.rrule

    years: set[int] = set()
    rebuild = dateutil.rrule._iterinfo.rebuild

    def noted(info: Any, year: int, month: int) -> None:
        years.add(year)
        rebuild(info, year, month)

    monkeypatch.setattr("dateutil.rrule._iterinfo.rebuild", noted)
    with pytest.raises(RuleFault):
        check_rule("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=31", date(2026, 1, 2))
    assert 300 < len(years) <= 400


@pytest.mark.parametrize(
    "rule",
    [
        "FREQ=YEARLY;BYWEEKNO=53;BYDAY=MO",
        "FREQ=YEARLY;INTERVAL=4;BYMONTH=2;BYMONTHDAY=29",
        "FREQ=MONTHLY;BYDAY=-1FR;UNTIL=20400101",
        "FREQ=WEEKLY;INTERVAL=3;BYDAY=TU,SU;WKST=SU",
        "FREQ=DAILY;INTERVAL=5;COUNT=900",
        "FREQ=YEARLY;BYYEARDAY=-1;UNTIL=99990101",
    ],
)
def test_days_are_those_that_the_reference_library_gives_without_detours(rule: str) -> None:
    start = date(2024, 2, 29)
    reference = rrulestr(rule, dtstart=datetime.combine(start, time()))
    expected = {day.date() for day in takewhile(lambda day: day.year < 2060, reference)}
    assert expected
    assert expected == {day for year in range(2020, 2060) for day in rule_days(rule, start, year)}


def test_a_day_off_is_asked_for_in_any_year_there_is() -> None:
    keeper = Keeper("Ada", off_rules=("FREQ=DAILY",), off_from=date(2026, 1, 1))
    assert not is_off(keeper, date(1, 1, 1))
    assert is_off(keeper, date(2199, 12, 31))
    assert not is_off(keeper, date(9999, 12, 31))  # rules are not looked at after 2399


HUGE = ["1e308", "-1e308", "9" * 400, "-" + "9" * 400, "inf", "nan", "0x" + "f" * 400]
TINY = ["5e-324", "1e-300"]
PLACES = {
    "top": "clocks.fine.per_week appetite.body_percent.adult appetite.fine_least appetite.body_mg.adult tools.scale_mg"
    " tools.jug_ml tools.error",
    "feed": "per_week share gone_after_hours measure.mg measure.step label.per label.measures wet_hours",
    "tank": "ration_mg",
}
"""Keys that something is divided by, or that nothing is made of when they are next to nothing."""
MORE_PLACES = {
    "top": "water.tds_factor water.bands.kh.daily water.bands.ph.low"
    " clocks.fine.max_gap clocks.fan.min_gap clocks.fan.overdue appetite.q10 appetite.temperature"
    " appetite.grazed.poor tools.adults_per_piece quarantine.days",
    "feed": "min_gap max_gap most minutes protein",
    "tank": "quarantine_days generation water.temperature water.ph water.gh water.tds",
}
CASES = [(place, key, number) for place in PLACES for key in PLACES[place].split() for number in HUGE + TINY]
CASES += [(place, key, number) for place in MORE_PLACES for key in MORE_PLACES[place].split() for number in HUGE]


@pytest.mark.parametrize(("place", "key", "number"), CASES, ids=lambda word: word[:20])
def test_a_number_out_of_all_proportion_is_refused_by_its_key(place: str, key: str, number: str) -> None:
    line = f"{key} = {number}\n"
    match place:
        case "top":
            text = room_text(top=line)
        case "feed":
            text = room_text(feeds=f'[[feeds]]\nid = "dust"\nkind = "powder"\n{line}')
        case _:
            text = room_text(tank=f"volume = 54\n{line}")
    assert any(f"{key}: found" in fault for fault in faults_of(text))
