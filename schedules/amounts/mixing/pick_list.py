"""What to take from the shelf, weigh, mix and carry before a round, in that order; quarantine's own tools last."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from schedules.amounts.mixing.ahead import bottles, weighings
from schedules.amounts.mixing.bottle import goes_into_mix
from schedules.amounts.mixing.minutes import preparation_minutes
from schedules.amounts.mixing.types import Bottle, Weighing
from schedules.amounts.ration.steps import Value
from schedules.history import History
from schedules.ledger.entries import PostedServing
from schedules.room import Feed, Room

Stage = Literal["shelf", "weigh", "mix", "carry", "quarantine"]


@dataclass(frozen=True, slots=True)
class Pick:
    """One thing to do before the round: a code with its values. `feed` is None where it is not about one feed."""

    stage: Stage
    code: str
    feed: str | None = None
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Preparation:
    """What a round needs: cups to weigh today, bottles to make, the list in the order it is done, and the minutes."""

    weighings: tuple[Weighing, ...]
    bottles: tuple[Bottle, ...]
    picks: tuple[Pick, ...]
    minutes: float


def prepare(room: Room, history: History, servings: Iterable[PostedServing], day: date) -> Preparation:
    """Everything to get ready for the servings due in a round of a day."""
    due = [each for each in servings if each.feed in room.feeds and each.tank in room.tanks and each.amount_mg > 0]
    weighed, made = weighings(room, history, due, day), bottles(room, history, due, day)
    return Preparation(weighed, made, pick_list(room, due, weighed, made), preparation_minutes(room, due, weighed))


def pick_list(
    room: Room, due: Sequence[PostedServing], weighed: Sequence[Weighing], made: Sequence[Bottle]
) -> tuple[Pick, ...]:
    """The list in the order in which it is done."""
    isolated = [each for each in due if room.tanks[each.tank].quarantine]
    others = [each for each in due if not room.tanks[each.tank].quarantine]
    return (
        *_shelf(room, due),
        *_weigh(weighed, made),
        *_mix(made),
        *_dry(room, others, "carry"),
        *_carry(made),
        *_quarantine(room, made, isolated),
    )


def dry_total(room: Room, feed: Feed, due: Iterable[PostedServing]) -> tuple[float, int]:
    """What of a feed is carried dry for servings due: mg in all, and to how many tanks."""
    dry = [each.amount_mg for each in due if each.feed == feed.id and not goes_into_mix(room, each)]
    return sum(dry), len(dry)


def _shelf(room: Room, due: Sequence[PostedServing]) -> Iterator[Pick]:
    for feed in room.feeds.values():
        given = [each for each in due if each.feed == feed.id]
        if given:
            mg = sum(each.amount_mg for each in given)
            yield Pick("shelf", "take", feed.id, {"mg": mg, "tanks": len({each.tank for each in given})})


def _weigh(weighed: Sequence[Weighing], made: Sequence[Bottle]) -> Iterator[Pick]:
    for weighing in weighed:
        for cup in weighing.cups:
            yield Pick("weigh", "cup", cup.feed, _mass(cup.mass_mg, cup.measures) | {"day": cup.day.isoformat()})
    ahead = {weighing.feed for weighing in weighed}
    for each in made:
        if each.weighed_on == each.made_on and each.feed not in ahead:
            yield Pick("weigh", "fresh", each.feed, _mass(each.mass_mg, each.measures))


def _mix(made: Sequence[Bottle]) -> Iterator[Pick]:
    for each in made:
        yield Pick(
            "mix",
            "fill",
            each.feed,
            _mass(each.mass_mg, each.measures)
            | {
                "weighed_on": each.weighed_on.isoformat(),
                "water_ml": each.water_ml,
                "mg_per_ml": each.mg_per_ml,
                "made_on": each.made_on.isoformat(),
                "hours": each.keeps_hours or 0.0,
            },
        )
        for vessel, ml, times in sorted({(d.vessel, d.ml, d.times) for d in each.doses}, key=lambda d: d[1] * d[2]):
            tanks = [d.tank for d in each.doses if (d.vessel, d.ml, d.times) == (vessel, ml, times)]
            size = {"ml": ml, "times": times, "vessel_ml": vessel.ml, "syringe": int(vessel.syringe)}
            yield Pick("mix", "class", each.feed, size | {"tanks": ", ".join(tanks)})
        for dose in each.exceptions:
            yield Pick("mix", "inexact", each.feed, {"tank": dose.tank, "ml": dose.ml, "error": dose.error or 0.0})
    if made:
        yield Pick("mix", "shake")


def _carry(made: Sequence[Bottle]) -> Iterator[Pick]:
    for each in made:
        used = sorted({(dose.vessel.ml, dose.vessel.syringe) for dose in each.doses})
        syringes = ", ".join(f"{ml:g}" for ml, syringe in used if syringe)
        cups = ", ".join(f"{ml:g}" for ml, syringe in used if not syringe)
        yield Pick("carry", "bottle", each.feed, {"syringes": syringes, "cups": cups})


def _quarantine(room: Room, made: Sequence[Bottle], due: Sequence[PostedServing]) -> Iterator[Pick]:
    if not due:
        return
    yield Pick("quarantine", "own_tools")
    tanks = {each.tank for each in due}
    for each in made:
        ml = sum(dose.ml * dose.times for dose in each.doses if dose.tank in tanks)
        if ml > 0:
            yield Pick("quarantine", "pour", each.feed, {"ml": ml})
    yield from _dry(room, due, "quarantine")


def _dry(room: Room, due: Sequence[PostedServing], stage: Stage) -> Iterator[Pick]:
    for feed in room.feeds.values():
        mg, tanks = dry_total(room, feed, due)
        if tanks:
            yield Pick(stage, "dry", feed.id, {"mg": mg, "tanks": tanks})


def _mass(mg: float, measures: float | None) -> dict[str, Value]:
    return {"mg": mg} if measures is None else {"mg": mg, "measures": measures}
