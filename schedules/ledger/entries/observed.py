"""Leftovers found in a tank."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Literal

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field

Leftovers = Literal["none", "some", "most"]


@dataclass(frozen=True, slots=True)
class Observed(What):
    """How much of a feed was found lying in a tank."""

    tank: Annotated[str, Field("the tank")]
    feed: Annotated[str, Field("the feed")]
    leftovers: Annotated[Leftovers, Field("how much of it was left")]


def _words(what: Observed, _day: date, names: Names) -> str:
    return f"leftovers of {names.feed(what.feed)} in {names.tank(what.tank)}: {what.leftovers}"


OBSERVED = declare(EntryKind(name="observed", made=Observed, meaning="leftovers found in a tank", words=_words))
