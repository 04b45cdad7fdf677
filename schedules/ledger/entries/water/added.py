"""Water poured into a tank, to make up for what is gone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field


@dataclass(frozen=True, slots=True)
class WaterAdded(What):
    """Litres of make-up water poured into a tank; `source` None for pure water."""

    tank: Annotated[str, Field("the tank", empty=False)]
    litres: Annotated[float, Field("how much", unit="L", most=100_000)]
    source: Annotated[str | None, Field("the make-up water, null for pure water", empty=False)] = None


def _words(what: WaterAdded, _day: date, names: Names) -> str:
    return f"{names.volume(what.litres)} of {names.water(what.source)} added to {names.tank(what.tank)}"


ADDED = declare(EntryKind(name="water_added", made=WaterAdded, meaning="water poured into a tank", words=_words))
