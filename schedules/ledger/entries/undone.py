"""An act taken back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from schedules.ledger.declaration import EntryKind, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field


@dataclass(frozen=True, slots=True)
class Undone(What):
    """The act numbered `act` no longer holds."""

    act: Annotated[int, Field("the act that no longer holds", key="undoes", least=1, most=2**53)]


UNDONE = declare(
    EntryKind(
        name="undone",
        made=Undone,
        meaning="an act taken back",
        words=lambda _what, _day, _names: "an act taken back",
        alone=True,
        undoable=False,
        undoes=lambda what: what.act,
    )
)
