"""One batch for each feed that is given by volume: how strong to mix it so that every dose sits well on a mark."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from math import ceil, floor
from typing import Final

from schedules.amounts.mixing.errors import root_sum_square, vessel_error, weighing_error
from schedules.amounts.mixing.types import Batch, Dilution, Dose
from schedules.amounts.ration.measurable import measured, smallest_part
from schedules.amounts.ration.serving import can_mix
from schedules.ledger.entries import PostedServing
from schedules.room import Feed, Room, Tools, Vessel

WEIGHING_PART: Final = 0.4
"""The part of the error limit that weighing may use up."""
WASTE: Final = 0.35
"""A batch that needs less than this part of the lightest mass that can be weighed is made from a stock."""
SPARE: Final = 1.05
"""What stays in the jug and in the syringe's tip."""
_HAIR: Final = 1e-9
_STOCKS_ML: Final = (50.0, 100.0, 200.0)
_THINNED_ML: Final = 300.0
_DEEPER: Final = 2
_TENTH: Final = Dilution(Vessel(10, 0.5), 10.0, 100.0)

Asked = Sequence[tuple[str, float]]


def goes_into_mix(feed: Feed, due: PostedServing, tools_can: bool = True) -> bool:
    """Whether a serving is given by volume: premixed, into the flow, or less than can be measured dry."""
    if not tools_can or due.amount_mg <= 0:
        return False
    dry = measured(due.amount_mg * (1 + _HAIR), feed.measure) * feed.measure.mg
    return due.method in ("premixed", "flow") or abs(dry - due.amount_mg) > 1e-6 * due.amount_mg


def batches(room: Room, servings: Iterable[PostedServing]) -> tuple[Batch, ...]:
    """A batch for each feed of a round that is mixed, in the order of the stock; doses in walking order."""
    place = {tank: number for number, tank in enumerate(room.walk)}
    asked: dict[str, dict[str, float]] = {}
    for due in servings:
        feed = room.feeds.get(due.feed)
        if feed is not None and due.tank in place and goes_into_mix(feed, due, can_mix(room)):
            by_tank = asked.setdefault(feed.id, {})
            by_tank[due.tank] = by_tank.get(due.tank, 0.0) + due.amount_mg
    return tuple(
        mix(room.feeds[feed], sorted(asked[feed].items(), key=lambda dose: place[dose[0]]), room.tools)
        for feed in room.feeds
        if feed in asked
    )


def mix(feed: Feed, asked: Asked, tools: Tools) -> Batch:
    """The best batch for what the tanks are due (mg each, none above what it gets): fewest doses beyond the limit.

    Then fewest doses in the lower half of their vessel, then the least lost to the marks, then the least water.
    """
    needed = sum(mg for _, mg in asked) * SPARE
    weighed = _mass(feed, needed, tools)
    least = lightest_mg(tools)
    stocks = [] if least is None or needed >= least * WASTE else list(_stocks(tools))
    best = _best(feed, asked, tools, weighed, stocks or [()])
    for _ in range(_DEEPER):
        if best.within or not stocks:
            break
        stocks = [(*stock[:-1], replace(stock[-1], to_ml=100.0), _TENTH) for stock in stocks]
        best = min(best, _best(feed, asked, tools, weighed, stocks), key=lambda batch: _badness(batch, tools.error))
    return best


def _best(
    feed: Feed, asked: Asked, tools: Tools, weighed: tuple[float, float | None], chains: Iterable[tuple[Dilution, ...]]
) -> Batch:
    found = _batches(feed, asked, tools, weighed, chains)
    return min(found, key=lambda batch: _badness(batch, tools.error))


def lightest_mg(tools: Tools) -> float | None:
    """The least mass that can be weighed well enough, a whole number of the scale's digits; None without a scale."""
    if tools.scale_mg is None:
        return None
    limit = WEIGHING_PART * tools.error
    return _up(weighing_error(1.0, tools.scale_mg, tools.verified_mg) / limit, tools.scale_mg)


def _mass(feed: Feed, needed_mg: float, tools: Tools) -> tuple[float, float | None]:
    """What is weighed, mg; or what is measured by the spoon, mg and number of measures."""
    least = lightest_mg(tools)
    if tools.scale_mg is None or least is None:
        part = smallest_part(feed.measure)
        measures = _up(needed_mg / feed.measure.mg, part)
        return measures * feed.measure.mg, measures
    return max(least, _up(needed_mg, tools.scale_mg)), None


def _up(value: float, step: float) -> float:
    return ceil(value / step - _HAIR) * step


def _stocks(tools: Tools) -> Iterator[tuple[Dilution, ...]]:
    """Ways to take a part of a stock: a full syringe of five to twenty mL. `to_ml` is settled later."""
    return ((Dilution(vessel, vessel.ml, 0.0),) for vessel in tools.syringes if 5 <= vessel.ml <= 20)


def vessels(tools: Tools) -> list[Vessel]:
    """Syringes and cups from the smallest up."""
    return sorted((*tools.syringes, *tools.cups), key=lambda vessel: vessel.ml)


def _waters(tools: Tools) -> Iterator[float]:
    """Volumes that are easy to make up in the jug: every 5 mL to 100, every 10 to 300, every 50 beyond."""
    for low, high, step in ((20, 100, 5), (100, 300, 10), (300, 5000, 50)):
        yield from (float(ml) for ml in range(low, high, step) if ml <= tools.jug_ml)


def _batches(
    feed: Feed, asked: Asked, tools: Tools, weighed: tuple[float, float | None], chains: Iterable[tuple[Dilution, ...]]
) -> Iterator[Batch]:
    for chain in chains:
        for water in _waters(tools):
            if not chain:
                yield _batch(feed, asked, tools, weighed, water, ())
            elif chain[-1].take_ml < water <= _THINNED_ML:
                steps = (*chain[:-1], replace(chain[-1], to_ml=water))
                for stock in _STOCKS_ML:
                    yield _batch(feed, asked, tools, weighed, stock, steps)


def _batch(
    feed: Feed,
    asked: Asked,
    tools: Tools,
    weighed: tuple[float, float | None],
    water: float,
    steps: tuple[Dilution, ...],
) -> Batch:
    mass, measures = weighed
    made = Batch(feed.id, mass, measures, water, steps, (), within=False)
    before = [tools.jug_error_ml / water]
    if tools.scale_mg is not None:
        before.append(weighing_error(mass, tools.scale_mg, tools.verified_mg))
    for step in steps:
        before += [vessel_error(step.vessel, step.take_ml) / step.take_ml, tools.jug_error_ml / step.to_ml]
    error = root_sum_square(*before)
    known = error if tools.scale_mg is not None else None
    # Looked up once and not for each dose: a round's mixes try tens of thousands of doses.
    strength, listed = made.mg_per_ml, vessels(tools)
    doses = tuple(_dose(tank, mg, strength, listed, known) for tank, mg in asked)
    within = all(one.ml > 0 and (one.error is None or one.error <= tools.error) for one in doses)
    enough = sum(one.ml * one.times for one in doses) <= made.made_ml
    return replace(made, doses=doses, within=within and enough)


def dose(tank: str, mg: float, mg_per_ml: float, tools: Tools, before: float | None) -> Dose:
    """A tank's dose on a mark of the smallest vessel that holds it, never above `mg`; several fills where none does.

    `before` is the relative error of the mix itself, None where it is not known.
    """
    return _dose(tank, mg, mg_per_ml, vessels(tools), before)


def _dose(tank: str, mg: float, mg_per_ml: float, listed: Sequence[Vessel], before: float | None) -> Dose:
    wanted = mg / mg_per_ml
    vessel = next((vessel for vessel in listed if vessel.ml >= wanted * (1 - _HAIR)), listed[-1])
    times = max(1, ceil(wanted / vessel.ml - _HAIR))
    ml = floor(wanted / times / vessel.mark_ml + _HAIR) * vessel.mark_ml
    got = min(mg, ml * times * mg_per_ml)
    own = vessel_error(vessel, ml) / ml if ml > 0 else 1.0
    return Dose(tank, vessel, ml, times, got, mg - got, None if before is None else root_sum_square(before, own))


def _badness(batch: Batch, limit: float) -> tuple[bool, int, int, float, float]:
    """How far a batch is from what is wanted: the smaller, the better. Fewer kinds of vessel count a little too."""
    asked = sum(dose.mg + dose.lost_mg for dose in batch.doses)
    lost = sum(dose.lost_mg for dose in batch.doses) / asked if asked > 0 else 0.0
    beyond = sum(dose.ml <= 0 or (dose.error is not None and dose.error > limit) for dose in batch.doses)
    lower = sum(not dose.upper_half for dose in batch.doses)
    kinds = len({dose.vessel for dose in batch.doses})
    return (batch.left_ml < 0, beyond, lower, round(lost, 2) + 0.02 * kinds, batch.made_ml)
