"""Other amounts of a serving that the keeper can take: measures by hand, or millilitres of the mix."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from schedules.ledger import PostedServing
from schedules.room import Feed
from schedules.round.doses import Doses

SHOWN: Final = 8
PARTS: Final = (0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0)
"""Parts of the dose due that are offered of a mix."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One amount: how many of the feed's measures it is, how many mL of the mix (None by hand), whether it is due."""

    measures: float
    ml: float | None
    as_due: bool


@dataclass(frozen=True, slots=True)
class Unit:
    """What a typed amount counts: mL of the mix or the feed's measures, and how many of the feed's measures one is."""

    mixed: bool
    measures: float


def amounts_around(doses: Doses, feed: Feed, due: PostedServing) -> tuple[Unit, list[Choice]]:
    """The unit in which a serving is taken, and a few amounts around the one due."""
    dose, per_ml = doses.of(due), doses.mg_per_ml(feed.id)
    if dose is None or per_ml is None:
        return Unit(False, 1.0), _by_hand(feed, due.amount)
    ml = Unit(True, per_ml / feed.measure.mg)
    mark = dose.vessel.mark_ml
    found = []
    for part in PARTS:
        taken = max(mark, round(dose.ml * dose.times * part / mark) * mark)
        found.append(Choice(due.amount if part == 1 else taken * ml.measures, taken, part == 1))
    return ml, found


def _by_hand(feed: Feed, due: float) -> list[Choice]:
    step = feed.measure.step
    first = max(1, round(due / step) - SHOWN // 2)
    amounts = [(first + number) * step for number in range(SHOWN)]
    return [Choice(amount, None, amount == due) for amount in amounts]
