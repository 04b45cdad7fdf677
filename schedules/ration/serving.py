"""What one serving comes to in the keeper's own measure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import floor

from schedules.ration.daily import daily_ration
from schedules.room import Feed, FeedRules, Measure, Tank


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount as it is measured: `measures` of `unit`, what that weighs in mg, and its share of the day's ration."""

    measures: float
    unit: str
    mg: float
    share: float


def measured(mg: float, measure: Measure) -> float:
    """The largest number of measures not above a mass that the keeper can measure; the smallest part if none is."""
    steps = floor(mg / (measure.mg * measure.step) + 1e-9)
    return max(1, steps) * measure.step


def serving_amount(tank: Tank, feed: Feed, rules: FeedRules, day: date) -> Amount:
    """What a serving of a feed to a tank on a day should come to."""
    full = daily_ration(tank, feed, day).mg
    measures = measured(full * rules.share, feed.measure)
    mg = measures * feed.measure.mg
    return Amount(measures, feed.measure.name, mg, rules.share)
