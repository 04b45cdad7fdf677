"""One bottle for each fine feed: how strong to make it, and what each tank gets of it.

Strengths are 1, 2, 4 … or ½, ¼ … mg/mL. A serving was rounded to its dose class when it was worked out
(`ration.hand.dose_class`), so at any of these strengths the dose is a class again and nothing is rounded twice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from math import ceil
from typing import Final

from schedules.amounts.mixing.errors import root_sum_square, vessel_error, weighing_error
from schedules.amounts.mixing.types import Bottle, Cup, Dose, Weighing
from schedules.amounts.ration.hand import class_error, smallest_part
from schedules.amounts.ration.serving import by_volume, can_mix
from schedules.ledger.entries import PostedServing
from schedules.room import Feed, Room, Tools, Vessel

WEIGHING_PART: Final = 0.35
"""The part of the error limit that weighing may use up."""
SPARE: Final = 1.1
"""What stays in the bottle and in the syringe's tip, and room for a serving more."""
STRENGTHS: Final = tuple(2.0**power for power in range(-6, 5))
"""Thicker than 16 mg/mL it clogs a syringe. Common practice, no source."""
WATER_STEP_ML: Final = 5.0
LEAST_WATER_ML: Final = 20.0
LEAST_DOSE_ML: Final = 2.0
"""Smaller doses cannot be read well on the syringes that a keeper has. Common practice, no source."""
_HAIR: Final = 1e-9

Asked = Sequence[tuple[str, float]]


def goes_into_mix(room: Room, due: PostedServing) -> bool:
    """Whether a serving is given by volume: a fine feed out of its bottle, or a solid one that may be ground."""
    feed, tank = room.feeds.get(due.feed), room.tanks.get(due.tank)
    if feed is None or tank is None or due.amount_mg <= 0:
        return False
    if by_volume(feed, tank.feeds.get(feed.id, feed.rules), room.tools):
        return True
    part = smallest_part(feed.measure) * feed.measure.mg
    return not feed.fine and feed.may_be_ground and due.amount_mg < part * (1 - _HAIR) and can_mix(room.tools)


def asked_of(room: Room, servings: Iterable[PostedServing]) -> dict[str, Asked]:
    """What tanks are due of each feed that is mixed, mg: feeds in the order of the stock, tanks in walking order."""
    found: dict[str, dict[str, float]] = {}
    for due in servings:
        if goes_into_mix(room, due):
            tanks = found.setdefault(due.feed, {})
            tanks[due.tank] = tanks.get(due.tank, 0.0) + due.amount_mg
    place = {tank: number for number, tank in enumerate(room.walk)}
    return {
        feed: sorted(found[feed].items(), key=lambda each: place.get(each[0], len(place)))
        for feed in room.feeds
        if feed in found
    }


def weigh_ahead(feed: Feed, mornings: Sequence[tuple[date, Asked]], tools: Tools) -> Weighing:
    """The cups of a feed for some mornings (at least one), the first of which is the day of weighing.

    One strength for all of them: fewest doses beyond the limit on their error, then fewest below the smallest dose and
    above the largest syringe, then fewest beside a mark, then the least water.
    """
    strength = min(STRENGTHS, key=lambda each: _badness(feed, mornings, tools, each))
    cups = tuple(_cup(feed, day, asked, tools, strength) for day, asked in mornings)
    return Weighing(feed.id, mornings[0][0], strength, cups)


def bottle(feed: Feed, asked: Asked, tools: Tools, weighing: Weighing, day: date) -> Bottle:
    """The bottle of a morning: the cup weighed for it, with its water; a fresh cup where that one holds too little."""
    cup = weighing.cup(day)
    weighed_on = weighing.day
    if cup is None or cup.mass_mg < sum(mg for _, mg in asked) * (1 - _HAIR):
        cup, weighed_on = _cup(feed, day, asked, tools, weighing.mg_per_ml), day
    doses = _with_fewest_vessels(cup, asked, tools)
    return Bottle(feed.id, cup.mass_mg, cup.measures, cup.water_ml, doses, weighed_on, day, feed.wet_hours)


def _with_fewest_vessels(cup: Cup, asked: Asked, tools: Tools) -> tuple[Dose, ...]:
    """A bottle's doses, with vessels left out as long as no dose gets inexact or takes more fills without them."""
    best = tuple(_doses(cup, asked, tools))
    used = Counter(each.vessel for each in best)
    for vessel, _ in sorted(used.items(), key=lambda each: (each[1], each[0].ml)):
        fewer = replace(
            tools,
            syringes=tuple(each for each in tools.syringes if each != vessel and each in used),
            cups=tuple(each for each in tools.cups if each != vessel and each in used),
        )
        if not fewer.syringes and not fewer.cups:
            break
        tried = tuple(_doses(cup, asked, fewer))
        if _clumsy(tried) <= _clumsy(best):
            best, tools = tried, fewer
    return best


def _clumsy(doses: Sequence[Dose]) -> tuple[int, int]:
    """Doses beyond the limit on their error, and fills in all."""
    return sum(not each.exact for each in doses), sum(each.times for each in doses)


def lightest_mg(tools: Tools) -> float | None:
    """The least mass that can be weighed well enough, a whole number of the scale's digits; None without a scale."""
    if tools.scale_mg is None or tools.plain:
        return None
    limit = WEIGHING_PART * tools.error
    return _up(weighing_error(1.0, tools.scale_mg, tools.verified_mg) / limit, tools.scale_mg)


def dose(tank: str, mg: float, mg_per_ml: float, tools: Tools, before: float | None) -> Dose:
    """A tank's dose from the vessel that is most exact for it; several fills where none holds it.

    `before` is the relative error of the bottle itself, None where it is not known.
    """
    return _dose(tank, mg, mg / mg_per_ml, tools, before)


def _dose(tank: str, mg: float, wanted_ml: float, tools: Tools, before: float | None) -> Dose:
    fills = (_fill(vessel, wanted_ml) for vessel in _fitting(tools, wanted_ml))
    # A dose that sits on a mark is read faster and with fewer slips than one beside it.
    best = min(fills, key=lambda fill: (fill[3], abs(fill[2] * fill[3] - wanted_ml) > _HAIR, fill[0], fill[1].ml))
    error, vessel, ml, times = best
    total = root_sum_square(before or 0.0, error, class_error(tools.doses_ml))
    exact = ml > 0 and total <= tools.error
    return Dose(tank, vessel, ml, times, mg, None if before is None else total, exact)


def _fitting(tools: Tools, ml: float) -> list[Vessel]:
    """Syringes up to the largest syringe dose, cups above; whatever there is where one of them is missing."""
    by_cup = ml > tools.cup_above_ml
    wanted = tools.cups if by_cup else tools.syringes
    holding = [vessel for vessel in wanted if vessel.ml >= ml * (1 - _HAIR)]
    return holding or list(wanted) or [*tools.syringes, *tools.cups]


def _fill(vessel: Vessel, wanted_ml: float) -> tuple[float, Vessel, float, int]:
    """How a dose is measured in a vessel: its error as a part of it, the vessel, mL a fill, and fills."""
    times = max(1, ceil(wanted_ml / vessel.ml - _HAIR))
    ml = min(vessel.ml, round(wanted_ml / times / vessel.mark_ml) * vessel.mark_ml)
    if ml <= 0:
        return 1.0, vessel, 0.0, times
    off_mark = abs(ml * times - wanted_ml) / wanted_ml
    return root_sum_square(vessel_error(vessel, ml) / ml, off_mark), vessel, ml, times


def _cup(feed: Feed, day: date, asked: Asked, tools: Tools, strength: float) -> Cup:
    """Dry feed for one morning, enough for its doses, to be filled up to a round volume at about a strength."""
    needed = sum(mg for _, mg in asked) * SPARE
    least = lightest_mg(tools)
    if least is None or tools.scale_mg is None:
        part = smallest_part(feed.measure)
        measures = _up(needed / feed.measure.mg, part)
        mass = measures * feed.measure.mg
        return Cup(
            feed.id, day, mass, measures, max(WATER_STEP_ML, round(mass / strength / WATER_STEP_ML) * WATER_STEP_ML)
        )
    water = max(LEAST_WATER_ML, _up(max(least, needed) / strength, WATER_STEP_ML))
    while not _whole(water * strength / tools.scale_mg):
        water += WATER_STEP_ML
    return Cup(feed.id, day, water * strength, None, water)


def _badness(
    feed: Feed, mornings: Sequence[tuple[date, Asked]], tools: Tools, strength: float
) -> tuple[bool, int, int, int, int, float]:
    cups = [(_cup(feed, day, asked, tools, strength), asked) for day, asked in mornings]
    water = max(cup.water_ml for cup, _ in cups)
    doses = [each for cup, asked in cups for each in _doses(cup, asked, tools)]
    small = sum(each.ml * each.times < LEAST_DOSE_ML * (1 - _HAIR) for each in doses)
    large = sum(each.ml * each.times > tools.cup_above_ml for each in doses)
    beside = sum(abs(each.ml * each.times * strength - each.mg) > 1e-6 * each.mg for each in doses)
    return water > tools.jug_ml, sum(not each.exact for each in doses), small, large, beside, water


def _doses(cup: Cup, asked: Asked, tools: Tools) -> Iterator[Dose]:
    before = _error_before(cup, tools)
    return (dose(tank, mg, cup.mass_mg / cup.water_ml, tools, before) for tank, mg in asked)


def _error_before(cup: Cup, tools: Tools) -> float | None:
    """The relative error of a bottle itself: its scale and its water; None where it was measured by the spoon."""
    if cup.measures is not None or tools.scale_mg is None:
        return None
    weighed = weighing_error(cup.mass_mg, tools.scale_mg, tools.verified_mg)
    return root_sum_square(weighed, tools.jug_error_ml / cup.water_ml)


def _up(value: float, step: float) -> float:
    return ceil(value / step - _HAIR) * step


def _whole(value: float) -> bool:
    return abs(value - round(value)) < 1e-6
