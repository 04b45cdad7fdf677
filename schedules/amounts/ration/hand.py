"""What a hand can measure: pieces and their parts, crumbs, spoons and their tips, grams; and doses of a mix.

An amount is rounded here, once; everything that shows it afterwards only says the same number in other words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, inf, log2
from typing import Final, Literal

from schedules.room import Feed, Measure, Tools

SPOON_TIP_MG: Final = 5.0
"""What lies on the tip of a small spoon, × or ÷ 2. Common practice, no source."""
GRAMS_ABOVE: Final = 10
"""More pieces than this are weighed instead of counted, where there is a scale."""
LEAST_DIGITS: Final = 10
"""Less than so many of a scale's digits is counted all the same: it would be off by more than 7 %."""
FITS: Final = 0.75
"""From this part of the smallest step on, an amount is rounded up to that step and needs no finer measure."""
_HAIR: Final = 1e-9

HandUnit = Literal["measure", "crumb", "spoon_tip", "gram"]


@dataclass(frozen=True, slots=True)
class Hand:
    """An amount as it is taken: how many, of what. `name` is the keeper's own word where the unit is the measure."""

    count: float
    unit: HandUnit
    name: str


def smallest_part(measure: Measure) -> float:
    """The smallest part of a measure that can be measured: `step`, taken as 1/n where it is within 2 % of that.

    A pellet that breaks in three is written 0.33, and three of those are one pellet.
    """
    parts = round(1 / measure.step) if measure.step < 1 else 0
    return 1 / parts if parts and abs(parts * measure.step - 1) <= 0.02 else measure.step


def smallest_mg(feed: Feed) -> float:
    """The least mass of a feed that can be given dry, mg."""
    part = smallest_part(feed.measure) * feed.measure.mg
    return min(part, SPOON_TIP_MG) if feed.fine else part


def dry_mg(feed: Feed, mg: float, tools: Tools) -> float:
    """The mass nearest to `mg` that can be given dry: never nothing, weighed beyond ten pieces, else by the measure."""
    if mg <= 0:
        return 0.0
    part = smallest_part(feed.measure) * feed.measure.mg
    if feed.fine and mg < FITS * part:
        return max(1, _nearest(mg / SPOON_TIP_MG)) * SPOON_TIP_MG
    if mg <= GRAMS_ABOVE * feed.measure.mg:
        return max(1, _nearest(mg / part)) * part
    weighed = mg if tools.scale_mg is None else _nearest(mg / tools.scale_mg) * tools.scale_mg
    return weighed if _by_scale(feed, weighed, tools) else _nearest(mg / feed.measure.mg) * feed.measure.mg


def in_hand(feed: Feed, mg: float, tools: Tools) -> Hand:
    """How a dry mass is taken. It is only put in words here, not rounded again."""
    count = mg / feed.measure.mg
    if _by_scale(feed, mg, tools):
        return Hand(mg / 1000, "gram", feed.measure.name)
    part = smallest_part(feed.measure)
    if feed.fine and count < FITS * part:
        return Hand(mg / SPOON_TIP_MG, "spoon_tip", feed.measure.name)
    if not feed.fine and feed.breaks == "crumb" and count < 0.25 - _HAIR:
        return Hand(count / part, "crumb", feed.measure.name)
    return Hand(count, "measure", feed.measure.name)


def dose_class(mg: float, doses_ml: Sequence[float], most_mg: float = inf) -> float:
    """The mass nearest to `mg` whose dose is one of `doses_ml` at a strength of 1, 2, 4 … or ½, ¼ … mg/mL.

    So whatever strength a bottle is made at, the tank's dose stays one of few. Not above `most_mg`.
    """
    if mg <= 0:
        return 0.0
    within_octave = {_within_octave(dose) for dose in doses_ml}
    octave = floor(log2(mg))
    near = (each * 2.0**power for each in within_octave for power in (octave - 1, octave, octave + 1))
    allowed = [each for each in near if each <= most_mg * (1 + _HAIR)]
    return min(allowed, key=lambda each: (abs(each - mg), each)) if allowed else most_mg


def class_error(doses_ml: Sequence[float]) -> float:
    """The most that rounding to a dose class puts an amount off, as a part of it."""
    steps = sorted({_within_octave(dose) for dose in doses_ml})
    return max(
        (after - before) / (after + before) for before, after in zip(steps, [*steps[1:], 2 * steps[0]], strict=True)
    )


def _by_scale(feed: Feed, mg: float, tools: Tools) -> bool:
    """Whether a mass is weighed: more than ten pieces, and enough for the scale to tell."""
    if tools.scale_mg is None or tools.plain:
        return False
    return mg > GRAMS_ABOVE * feed.measure.mg * (1 + _HAIR) and mg >= LEAST_DIGITS * tools.scale_mg * (1 - _HAIR)


def _within_octave(value: float) -> float:
    """A number halved or doubled until it lies from 1 to below 2."""
    return float(value / 2.0 ** floor(log2(value)))


def _nearest(value: float) -> int:
    """The nearest whole number, halves upwards."""
    return floor(value + 0.5 + _HAIR)
