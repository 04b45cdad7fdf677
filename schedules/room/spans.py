"""Runs of days as spans of dates rather than day by day: joined, cut, and numbered from a first day."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import NamedTuple

_DAY = timedelta(days=1)


class Span(NamedTuple):
    """The days from `first` to `last`, both included; open ends are the calendar's ends."""

    first: date
    last: date


def joined(spans: Iterable[Span]) -> tuple[Span, ...]:
    """The runs of days that spans cover together, in order; spans that touch or overlap are one run."""
    runs: list[Span] = []
    for span in sorted(spans):
        if runs and _touches(runs[-1], span):
            runs[-1] = Span(runs[-1].first, max(runs[-1].last, span.last))
        else:
            runs.append(span)
    return tuple(runs)


def without(spans: Iterable[Span], others: Iterable[Span]) -> tuple[Span, ...]:
    """The runs of days that spans cover and no other span does."""
    left = list(joined(spans))
    for other in others:
        left = [part for span in left for part in _cut(span, other)]
    return tuple(left)


def overlap(span: Span, other: Span) -> tuple[Span, ...]:
    """The days two spans share: one span, or none."""
    shared = Span(max(span.first, other.first), min(span.last, other.last))
    return (shared,) if shared.first <= shared.last else ()


def days_within(spans: Iterable[Span], first: date, last: date) -> tuple[int, ...]:
    """The days of ordered spans from `first` to `last`, numbered from `first`, ascending."""
    found: list[int] = []
    for span in spans:
        start, end = max(span.first, first), min(span.last, last)
        if start <= end:
            found.extend(range((start - first).days, (end - first).days + 1))
    return tuple(found)


def run_start(spans: Iterable[Span], day: date) -> date | None:
    """The first day of the run that a day lies in, None where the day is in no run."""
    return next((span.first for span in spans if span.first <= day <= span.last), None)


def _touches(earlier: Span, later: Span) -> bool:
    """Whether two spans, sorted by first day, leave no day between them."""
    return earlier.last == date.max or later.first <= earlier.last + _DAY


def _cut(span: Span, other: Span) -> tuple[Span, ...]:
    if other.last < span.first or span.last < other.first:
        return (span,)
    before = (Span(span.first, other.first - _DAY),) if span.first < other.first else ()
    after = (Span(other.last + _DAY, span.last),) if other.last < span.last else ()
    return before + after
