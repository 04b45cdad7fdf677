"""How fast a quantity rises or falls in one tank, and when it will leave its target."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from schedules.room.water.rules import Band
from schedules.water.watch.findings import Done, Read, Series
from schedules.water.watch.settings import LARGE_CHANGE, TREND_DAYS, TREND_READINGS, TREND_SPAN
from schedules.water.watch.theil_sen import Line, theil_sen


@dataclass(frozen=True, slots=True)
class Trend:
    """A line through the last weeks, x in days from `day`; `count` readings, of which the first was on `first`.

    `until` is the day on which it passes `bound`, None where it does not.
    """

    line: Line
    day: date
    first: date
    count: int
    bound: float | None = None
    until: date | None = None


def trend_of(series: Series, band: Band | None, today: date) -> Trend | None:
    """The trend of the readings since the last large change, at most six weeks; None for too few of them."""
    reads = _recent(series, today)
    if len(reads) < TREND_READINGS or (reads[-1].day - reads[0].day).days < TREND_SPAN:
        return None
    last = reads[-1].day
    line = theil_sen([float((read.day - last).days) for read in reads], [read.value for read in reads])
    if line is None:
        return None
    bound, until = (None, None) if band is None or not line.rises_or_falls else _leaves(line, band, last)
    return Trend(line, last, reads[0].day, len(reads), bound, until)


def _recent(series: Series, today: date) -> list[Read]:
    first = today - timedelta(days=TREND_DAYS)
    done = (event for event in series if isinstance(event, Done) and not event.added)
    since = max((event.day for event in done if event.dose or event.part >= LARGE_CHANGE), default=first)
    return [event for event in series if isinstance(event, Read) and max(first, since) <= event.day <= today]


def _leaves(line: Line, band: Band, last: date) -> tuple[float | None, date | None]:
    """The first bound ahead that the line passes, and the day on which it does: the target's, else the limit's."""
    ahead = [band.high, band.highest] if line.slope > 0 else [band.low, band.lowest]
    now = line.at(0.0)
    for bound in ahead:
        if bound is not None and (bound - now) * line.slope > 0:
            days = ceil((bound - now) / line.slope)
            return bound, last + timedelta(days=min(days, 3650))
    return None, None
