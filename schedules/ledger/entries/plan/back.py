"""The keeper is back: from a day on no leave plan holds that was written before."""

from __future__ import annotations

from dataclasses import dataclass

from schedules.ledger.declaration import EntryKind, declare
from schedules.ledger.entry import What


@dataclass(frozen=True, slots=True)
class Back(What):
    """From the entry's day on the posted plan holds again."""


BACK = declare(
    EntryKind(
        name="back",
        made=Back,
        meaning="from this day on no earlier leave plan holds, and what was posted is due again",
        words=lambda _what, day, names: f"leave plan ends: the posted plan holds from {names.day(day)}",
        alone=True,
        undoable=False,
    )
)
