"""A feed given to a tank."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import Content, Earlier, EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field


@dataclass(frozen=True, slots=True)
class Served(What):
    """A feed given to a tank: how much, and what part of the tank's ration of that day this was when it was given.

    A serving that broke no rule is a mark. One that did (`broke`) is extra: the keeper insisted on it.
    """

    tank: Annotated[str, Field("the tank")]
    feed: Annotated[str, Field("the feed")]
    round: Annotated[str, Field("the round")]
    amount: Annotated[float, Field("how much", unit="measures named in `unit`")]
    unit: Annotated[str, Field("the feed's measure")]
    amount_mg: Annotated[float, Field("how much", unit="mg")]
    part: Annotated[float, Field("what it took of the table's ration of that day", unit="1 is all of it")]
    planned: Annotated[bool, Field("whether it was due")]
    broke: Annotated[str | None, Field("the code of the rule it broke where the keeper insisted", empty=False)] = None


def _with_part(content: Content) -> Content:
    return {"part" if key == "share" else key: value for key, value in content.items()}


def _words(what: Served, _day: date, names: Names) -> str:
    dose = names.amount(what.tank, what.feed, what.amount, what.unit, what.amount_mg)
    return f"{dose} of {names.feed(what.feed)} given to {names.tank(what.tank)}"


SERVED = declare(
    EntryKind(
        name="served",
        made=Served,
        meaning="a feed given to a tank",
        words=_words,
        mark=lambda what: ("serving", what.round) if what.broke is None else None,
        earlier=(
            Earlier(
                ("tank", "feed", "round", "amount", "unit", "amount_mg", "share", "planned", "broke"),
                _with_part,
            ),
        ),
    )
)
