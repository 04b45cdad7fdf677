"""Runs of days, against the same thing counted day by day."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from schedules.room.spans import Span, days_within, joined, overlap, run_start, without

DAY = date(2026, 11, 25)
FIRST, LAST = DAY - timedelta(days=50), DAY + timedelta(days=50)
ALL = [FIRST + timedelta(days=number) for number in range(101)]


@st.composite
def spans(draw: st.DrawFn) -> Span:
    first, last = sorted(draw(st.tuples(st.integers(-40, 40), st.integers(-40, 40))))
    return Span(
        draw(st.sampled_from((date.min, DAY + timedelta(days=first)))),
        draw(st.sampled_from((date.max, DAY + timedelta(days=last)))),
    )


def covers(found: list[Span], day: date) -> bool:
    return any(span.first <= day <= span.last for span in found)


@given(st.lists(spans(), max_size=5))
def test_the_days_of_the_runs_are_the_days_that_any_span_covers(found: list[Span]) -> None:
    days = days_within(joined(found), FIRST, LAST)
    assert [ALL[number] for number in days] == [day for day in ALL if covers(found, day)]


@given(st.lists(spans(), max_size=4), st.lists(spans(), max_size=4))
def test_days_that_other_spans_cover_are_cut_out(found: list[Span], others: list[Span]) -> None:
    days = days_within(without(found, others), FIRST, LAST)
    assert [ALL[number] for number in days] == [day for day in ALL if covers(found, day) and not covers(others, day)]


@given(spans(), spans())
def test_an_overlap_is_what_both_spans_cover(one: Span, other: Span) -> None:
    days = days_within(overlap(one, other), FIRST, LAST)
    assert [ALL[number] for number in days] == [day for day in ALL if covers([one], day) and covers([other], day)]


@given(st.lists(spans(), max_size=5))
def test_a_run_starts_after_the_last_day_without_it(found: list[Span]) -> None:
    start = run_start(joined(found), DAY)

    if start is None:
        assert not covers(found, DAY)
    elif start > date.min:
        assert covers(found, start) and not covers(found, start - timedelta(days=1))
        assert all(covers(found, start + timedelta(days=number)) for number in range((DAY - start).days + 1))


def test_spans_that_touch_are_one_run_and_a_day_between_them_parts_them() -> None:
    day = timedelta(days=1)
    touching = (Span(DAY, DAY + 3 * day), Span(FIRST, DAY - day))
    assert joined(touching) == (Span(FIRST, DAY + 3 * day),)
    assert run_start(joined(touching), DAY) == FIRST
    apart = (Span(DAY + day, DAY + 3 * day), Span(FIRST, DAY - day))
    assert joined(apart) == (Span(FIRST, DAY - day), Span(DAY + day, DAY + 3 * day))
    assert joined((Span(FIRST, date.max), Span(date.max, date.max))) == (Span(FIRST, date.max),)
