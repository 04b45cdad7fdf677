"""Other amounts of a serving that the keeper can take: measures by hand, or millilitres of the mix."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from schedules.formatting import amount_text, number_text
from schedules.ledger import PostedServing
from schedules.room import Feed
from schedules.round.doses import Doses

SHOWN: Final = 8
PARTS: Final = (0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0)
"""Parts of the dose due that are offered of a mix."""


@dataclass(frozen=True, slots=True)
class Way:
    """One amount: how it is told, and how many of the feed's measures it is."""

    text: str
    measures: float


@dataclass(frozen=True, slots=True)
class Unit:
    """What a typed amount counts: its name in the plural, and how many of the feed's measures one is."""

    name: str
    measures: float


def amounts_around(doses: Doses, feed: Feed, due: PostedServing) -> tuple[Unit, list[Way]]:
    """The unit in which a serving is taken, and a few amounts around the one due."""
    dose, per_ml = doses.of(due), doses.mg_per_ml(feed.id)
    if dose is None or per_ml is None:
        return Unit(f"{feed.measure.name}s", 1.0), _by_hand(feed, due.amount)
    ml = Unit("mL of the mix", per_ml / feed.measure.mg)
    mark = dose.vessel.mark_ml
    ways = []
    for part in PARTS:
        taken = max(mark, round(dose.ml * dose.times * part / mark) * mark)
        said = " (as due)" if part == 1 else ""
        ways.append(Way(f"{number_text(taken)} mL of the mix{said}", due.amount if part == 1 else taken * ml.measures))
    return ml, ways


def _by_hand(feed: Feed, due: float) -> list[Way]:
    step = feed.measure.step
    first = max(1, round(due / step) - SHOWN // 2)
    amounts = [(first + number) * step for number in range(SHOWN)]
    return [
        Way(amount_text(amount, feed.measure.name) + (" (as due)" if amount == due else ""), amount)
        for amount in amounts
    ]
