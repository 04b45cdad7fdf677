"""A note in the keeper's own words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field


@dataclass(frozen=True, slots=True)
class Noted(What):
    """A note, about one tank or (tank None) about the room."""

    tank: Annotated[str | None, Field("the tank, null for the whole room")]
    text: Annotated[str, Field("the keeper's words")]


def _words(what: Noted, _day: date, names: Names) -> str:
    return f"note about {'the room' if what.tank is None else names.tank(what.tank)}: {what.text}"


NOTED = declare(EntryKind(name="noted", made=Noted, meaning="a note about a tank or the room", words=_words))
