"""When eggs are expected to hatch, and what is said of them before and after."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.history.life import Brood, room_as_of
from schedules.history.life.hatching import hatch_window, incubation_days
from schedules.review.expected import expected_hatches
from schedules.room import Presence
from tests.life.rooms import DAY, entries, folded, room_of, sighting

BERRIED = Brood("a1", 1, DAY, None, 1)


@pytest.mark.parametrize(
    ("celsius", "days"),
    [
        # Measured in laboratories: Nur and Christianus 2013 (27 °C), Mahmoud and others 2020 (25 to 28 °C).
        (25.0, 15),
        (27.0, 15),
        (28.0, 15),
        # In texts that seem to quote Tropea and others 2015; the paper's own numbers were not seen.
        (24.0, 21),
        (32.0, 12),
    ],
)
def test_every_published_time_lies_in_the_window_with_two_days_to_spare(celsius: float, days: int) -> None:
    window = hatch_window(BERRIED, celsius)
    assert window is not None
    assert window.first <= DAY + timedelta(days=days - 2)
    assert window.last >= DAY + timedelta(days=days + 2)


@pytest.mark.parametrize("celsius", [23.9, 18.0, 32.1])
def test_nothing_is_said_outside_of_what_is_published(celsius: float) -> None:
    assert hatch_window(BERRIED, celsius) is None
    assert hatch_window(replace(BERRIED, eyed=DAY), celsius) is None


def test_unmeasured_water_gets_the_window_of_the_whole_usual_range() -> None:
    days = incubation_days(None)
    assert days is not None
    for celsius in (24.0, 25.0, 26.5, 28.0):
        at = incubation_days(celsius)
        assert at is not None
        assert days[0] <= at[0] <= at[1] <= days[1]


@given(st.floats(24, 32), st.integers(0, 40), st.booleans())
def test_a_window_lies_ahead_and_is_five_days_wide_at_least(celsius: float, after: int, known: bool) -> None:
    eyed = DAY + timedelta(days=after)
    brood = Brood("a1", 1, DAY if known else None, eyed, 1)
    window, before = hatch_window(brood, celsius), hatch_window(BERRIED, celsius)
    assert window is not None and before is not None
    assert window.first > eyed
    assert (window.last - window.first).days >= 4
    if known:
        assert window.last - window.first <= max(before.last - before.first, timedelta(days=9))


def test_eyes_seen_narrow_the_window() -> None:
    wide, narrow = hatch_window(BERRIED, 26.0), hatch_window(replace(BERRIED, eyed=DAY + timedelta(days=10)), 26.0)
    assert wide is not None and narrow is not None
    assert wide.first <= narrow.first and narrow.last <= wide.last and narrow != wide


def test_young_are_expected_in_the_window_and_no_longer_once_the_hatch_was_seen() -> None:
    room = room_of(Presence("adult", 20))
    seen = ((0, sighting("berried")), (14, sighting("hatch", 30, exact=False)))

    before = room_as_of(room, folded(room, entries(seen[0])), DAY)
    (young,) = (here for here in before.tanks["a1"].animals if here.expected)
    assert young.first == DAY + timedelta(days=13) and young.stage == "shrimplet"
    assert before.tanks["a1"].count("shrimplet", young.first) == 0

    after = room_as_of(room, folded(room, entries(*seen)), DAY + timedelta(days=14))
    assert not any(here.expected for here in after.tanks["a1"].animals)
    assert after.tanks["a1"].count("shrimplet", DAY + timedelta(days=14)) == 30


def state(days: int, *seen: str, celsius: float = 26.0) -> list[str]:
    """What is expected so many days after a female was seen berried, and other things were seen since."""
    room = room_of(Presence("adult", 20), celsius=celsius)
    others = [(3, sighting(saw, 0 if saw == "berried" else 1)) for saw in seen]  # type: ignore[arg-type]
    life = folded(room, entries((0, sighting("berried")), *others))
    return [each.state for each in expected_hatches(room, life, DAY + timedelta(days=days))]


def test_a_window_that_passes_with_nothing_seen_is_asked_about_for_two_weeks() -> None:
    assert [state(days) for days in (0, 14, 21, 34, 35)] == [["coming"], ["due"], ["passed"], ["passed"], []]


def test_eggs_that_are_gone_are_expected_no_more() -> None:
    assert state(4, "berried") == []


def test_water_too_cold_for_a_published_time_is_said_to_be() -> None:
    assert state(4, celsius=21.0) == ["unknown"]


def test_a_female_seen_berried_again_is_the_same_one() -> None:
    room = room_of(Presence("adult", 20))
    life = folded(room, entries((0, sighting("berried")), (2, sighting("berried")), (3, sighting("berried", 3))))
    assert [(brood.heads, brood.berried) for brood in life.broods] == [(1, DAY), (2, date(2026, 11, 4))]


def test_what_the_file_foresees_is_listed_too() -> None:
    room = room_of(Presence("shrimplet", 40, first=DAY + timedelta(days=9)))
    (found,) = expected_hatches(room, folded(room, ()), DAY)
    assert (found.state, found.heads, found.film_from) == ("in_file", 40, DAY + timedelta(days=4))
