"""Who lived where at the end of a day, by all that was seen until then: so that nobody has to read it all again.

It says nothing that other entries do not say, and is not used where one of those was added or taken back since.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from schedules.ledger.declaration import EntryKind, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field


@dataclass(frozen=True, slots=True)
class Census(What):
    """The animals of all tanks at the end of the day that the entry is about."""

    upto: Annotated[int, Field("the newest entry that was counted in", most=2**53)]
    room: Annotated[str, Field("what the room file's animals were, as a hash")]
    state: Annotated[str, Field("the animals as compressed JSON in base 64")]


CENSUS = declare(
    EntryKind(
        name="census",
        made=Census,
        meaning="who lived where at the end of a day, by all sightings until then; worked out, and only for speed",
        words=lambda _what, _day, _names: "the animals of all tanks summed up",
        alone=True,
        undoable=False,
    )
)
