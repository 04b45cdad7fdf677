"""Water of a tank replaced."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field


@dataclass(frozen=True, slots=True)
class WaterChanged(What):
    """Litres taken out of a tank and replaced by as much make-up water; `source` None for pure water."""

    tank: Annotated[str, Field("the tank", empty=False)]
    litres: Annotated[float, Field("how much was taken out and replaced", unit="L", most=100_000)]
    source: Annotated[str | None, Field("the make-up water, null for pure water", empty=False)] = None


def _words(what: WaterChanged, _day: date, names: Names) -> str:
    return f"{names.volume(what.litres)} of {names.tank(what.tank)} changed for {names.water(what.source)}"


CHANGED = declare(EntryKind(name="water_changed", made=WaterChanged, meaning="water of a tank replaced", words=_words))
