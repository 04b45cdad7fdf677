"""A kind of entry that no release has: declared in this one file, as a real one would be in `entries/`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from schedules.ledger.declaration import Earlier, EntryKind
from schedules.ledger.entry import What
from schedules.ledger.fields import Field


@dataclass(frozen=True, slots=True)
class Rinsed(What):
    """A sponge rinsed in a rack, once a day."""

    rack: Annotated[str, Field("the rack")]
    litres: Annotated[float, Field("how much tank water was used", unit="L", most=100)]
    by_hand: Annotated[bool, Field("whether it was done by hand")]


RINSED = EntryKind(
    name="rinsed",
    made=Rinsed,
    meaning="a sponge rinsed",
    words=lambda what, day, names: f"sponge of {what.rack} rinsed on {names.day(day)}",
    mark=lambda what: ("rinse", what.rack),
    earlier=(Earlier(("rack", "litres"), lambda content: content | {"by_hand": True}),),
)
