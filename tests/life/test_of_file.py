"""The room file's animals grow up like the young of a hatch where their age is known, and else stay as written."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.history.life import room_as_of
from schedules.history.life.ages import SLOW, USUAL
from schedules.history.life.curve import CEILING_MM, age_at, length_at
from schedules.room import Presence
from schedules.room.kinds import STAGES, Stage
from tests.life.rooms import DAY, entries, folded, heads, room_of, sighting


def stages(here: Presence, *days: int, celsius: float = 26.0) -> list[Stage | None]:
    """The stage of a line of the file so many days after `DAY`; None where nobody is there."""
    room = room_of(here, celsius=celsius)
    lived = room_as_of(room, folded(room, ()), DAY).tanks["a1"]
    there = [[stage for stage in STAGES if lived.count(stage, DAY + timedelta(days=each))] for each in days]
    return [found[0] if found else None for found in there]


def test_a_line_with_a_hatch_date_becomes_juvenile_and_adult_at_the_published_ages() -> None:
    """60 and 75 days at 25 to 28 °C: Nur and Christianus 2013, Mahmoud and others 2020."""
    written = Presence("shrimplet", 30, hatched=DAY)
    assert stages(written, 0, 59, 60, 74, 75, 900) == ["shrimplet"] * 2 + ["juvenile"] * 2 + ["adult"] * 2


def test_shrimplets_from_a_day_hatched_on_it() -> None:
    assert stages(Presence("shrimplet", 30, first=DAY), -1, 0, 59, 60) == [None, "shrimplet", "shrimplet", "juvenile"]


def test_a_length_on_a_day_says_how_old_they_are() -> None:
    """16.7 mm is the length at 60 days: at 10 mm they are 25 days old, and become juveniles 35 days later."""
    assert length_at(25) == pytest.approx(10.0, abs=0.1)
    written = Presence("shrimplet", 30, first=DAY, length=10.0)
    assert stages(written, 0, 34, 36) == ["shrimplet", "shrimplet", "juvenile"]


@pytest.mark.parametrize(
    "written",
    [
        Presence("shrimplet", 30),
        Presence("juvenile", 30, first=DAY - timedelta(days=200)),
        Presence("juvenile", 30, length=15.0),
        Presence("filter_feeder", 3, hatched=DAY - timedelta(days=10)),
        Presence("juvenile", 30, first=DAY, length=CEILING_MM),
        Presence("juvenile", 30, first=DAY, hatched=DAY - timedelta(days=SLOW.adult)),
    ],
)
def test_a_line_whose_age_is_not_known_or_not_that_of_its_stage_stays_as_written(written: Presence) -> None:
    assert stages(written, 0, 100, 1000) == [written.stage] * 3


def test_a_line_with_an_end_holds_as_written_until_then() -> None:
    written = Presence("shrimplet", 30, first=DAY, last=DAY + timedelta(days=80), hatched=DAY)
    assert stages(written, 0, 80, 81) == ["shrimplet", "shrimplet", None]


def test_what_the_file_says_of_a_day_holds_on_that_day_and_they_grow_up_at_the_slow_age() -> None:
    """On `from` they are 70 days old and shrimplets all the same: then they are slow."""
    written = Presence("shrimplet", 30, first=DAY, hatched=DAY - timedelta(days=70))
    at = SLOW.juvenile - 70
    assert stages(written, 0, at - 1, at) == ["shrimplet", "shrimplet", "juvenile"]


def test_in_cool_water_they_grow_up_later() -> None:
    written = Presence("shrimplet", 30, hatched=DAY)
    assert stages(written, USUAL.juvenile, SLOW.juvenile, celsius=20.0) == ["shrimplet", "juvenile"]


@given(st.integers(0, 400), st.booleans())
def test_the_age_at_a_length_is_the_one_that_has_it(days: int, slow: bool) -> None:
    assert age_at(length_at(days, slow=slow), slow=slow) == pytest.approx(days, abs=0.01)


def test_nobody_is_lost_when_the_files_animals_grow_up_and_some_are_moved() -> None:
    room = room_of(Presence("shrimplet", 30, hatched=DAY))
    seen = entries((10, sighting("moved", 10, stage="shrimplet")), (70, sighting("dead", 2, stage="juvenile")))
    life, day = folded(room, seen), date(2027, 6, 1)
    assert (heads(life, room, day, "a1", "adult"), heads(life, room, day, "b2", "adult")) == (18, 10)
