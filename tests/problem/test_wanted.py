"""Runs of wanted days, against the same thing counted day by day."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from schedules.problem.wanted import days_within, run_start, wanted_spans
from schedules.room import Presence
from schedules.room.kinds import Stage

DAY = date(2026, 11, 25)
ANY_STAGE: frozenset[Stage] = frozenset(("shrimplet", "adult"))
offsets = st.integers(-40, 40)


@st.composite
def presences(draw: st.DrawFn) -> Presence:
    first, last = sorted((draw(offsets), draw(offsets)))
    return Presence(
        draw(st.sampled_from(("shrimplet", "juvenile", "adult"))),
        draw(st.integers(0, 3)),
        first=draw(st.sampled_from((None, DAY + timedelta(days=first)))),
        last=draw(st.sampled_from((None, DAY + timedelta(days=last)))),
    )


def wanted_on(animals: list[Presence], day: date) -> bool:
    return any(here.count > 0 and here.stage in ANY_STAGE and here.on(day) for here in animals)


@given(st.lists(presences(), max_size=5))
def test_the_days_of_the_runs_are_the_days_on_which_a_stage_is_present(animals: list[Presence]) -> None:
    first, last = DAY - timedelta(days=50), DAY + timedelta(days=50)

    days = days_within(wanted_spans(animals, ANY_STAGE), first, last)

    assert list(days) == [n for n in range(101) if wanted_on(animals, first + timedelta(days=n))]


@given(st.lists(presences(), max_size=5))
def test_a_run_starts_after_the_last_day_without_the_stage(animals: list[Presence]) -> None:
    start = run_start(wanted_spans(animals, ANY_STAGE), DAY)

    if start is None:
        assert not wanted_on(animals, DAY)
    elif start > date.min:
        assert wanted_on(animals, start) and not wanted_on(animals, start - timedelta(days=1))
        assert all(wanted_on(animals, start + timedelta(days=n)) for n in range((DAY - start).days + 1))
