"""A quantity read in a tank's water."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from datetime import time as day_time
from typing import Annotated

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field, Malformed
from schedules.room.water.quantities import QUANTITIES, Quantity


@dataclass(frozen=True, slots=True)
class Reading(What):
    """One quantity read in one tank. Several read in one go are entries of one act.

    `time` is the wall-clock time of the reading where a meter says it, as HH:MM.
    """

    tank: Annotated[str, Field("the tank", empty=False)]
    quantity: Annotated[Quantity, Field("what was read; ammonia is total ammonia nitrogen, nitrite NO2-, nitrate NO3-")]
    value: Annotated[float, Field("the value", unit="°C, µS/cm at 25 °C, mg/L or German degrees")]
    time: Annotated[str | None, Field("the time of day in the room's zone, as HH:MM, where it is known")] = None

    def __post_init__(self) -> None:
        form = QUANTITIES.get(self.quantity)
        if form is not None and not form.least <= self.value <= form.most:
            unit = f" {form.unit}" if form.unit else ""
            allowed = f"a {form.name} from {form.least:.10g} to {form.most:.10g}{unit}"
            raise Malformed("value", self.value, allowed)
        if self.time is not None and not _is_time(self.time):
            raise Malformed("time", self.time, "a time as HH:MM, or null")


def _is_time(text: str) -> bool:
    try:
        return day_time.fromisoformat(text).strftime("%H:%M") == text
    except (TypeError, ValueError):
        return False


def _words(what: Reading, _day: date, names: Names) -> str:
    when = "" if what.time is None else f" at {what.time}"
    return f"{names.reading(what.quantity, what.value)} read in {names.tank(what.tank)}{when}"


READING = declare(EntryKind(name="reading", made=Reading, meaning="a quantity read in a tank's water", words=_words))
