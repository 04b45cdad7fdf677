"""On which days a tank holds a stage that a feed is for, as spans of dates rather than day by day."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import NamedTuple

from schedules.room import Presence
from schedules.room.kinds import Stage


class Span(NamedTuple):
    """The days from `first` to `last`, both included."""

    first: date
    last: date


def wanted_spans(animals: Iterable[Presence], stages: frozenset[Stage]) -> tuple[Span, ...]:
    """The runs of wanted days, in order; runs that touch or overlap are one. Open ends reach to the calendar's ends."""
    spans = sorted(
        Span(here.first or date.min, here.last or date.max)
        for here in animals
        if here.stage in stages and here.count > 0
    )
    runs: list[Span] = []
    for span in spans:
        if runs and _touches(runs[-1], span):
            runs[-1] = Span(runs[-1].first, max(runs[-1].last, span.last))
        else:
            runs.append(span)
    return tuple(runs)


def _touches(earlier: Span, later: Span) -> bool:
    """Whether two spans, sorted by first day, leave no day between them."""
    return earlier.last == date.max or later.first <= earlier.last + timedelta(days=1)


def days_within(spans: Iterable[Span], first: date, last: date) -> tuple[int, ...]:
    """The days of the spans from `first` to `last`, numbered from `first`, ascending."""
    found: list[int] = []
    for span in spans:
        start, end = max(span.first, first), min(span.last, last)
        if start <= end:
            found.extend(range((start - first).days, (end - first).days + 1))
    return tuple(found)


def run_start(spans: Iterable[Span], day: date) -> date | None:
    """The first day of the run that a day lies in, None where the day is in no run."""
    return next((span.first for span in spans if span.first <= day <= span.last), None)
