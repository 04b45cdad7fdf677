"""A chore done, or left out with a reason."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field, Malformed
from schedules.ledger.reason import Reason


@dataclass(frozen=True, slots=True)
class ChoreMark(What):
    """A chore of a tank, of a rack, or (neither) of the room: done on the day, or left out where `because` says why.

    It is a mark: one chore is done or left out once a day at a place.
    """

    chore: Annotated[str, Field("the chore", empty=False)]
    tank: Annotated[str | None, Field("the tank, null for a chore of a rack or of the room", empty=False)] = None
    rack: Annotated[str | None, Field("the rack, null for a chore of a tank or of the room", empty=False)] = None
    because: Annotated[Reason | None, Field("null where it was done; else why it was left out")] = None

    def __post_init__(self) -> None:
        if self.tank is not None and self.rack is not None:
            raise Malformed("rack", self.rack, "null beside a tank")

    @property
    def subject(self) -> str:
        """The chore, with its rack where it is one of a rack. Ids hold no blanks."""
        return self.chore if self.rack is None else f"{self.chore} {self.rack}"


def _words(what: ChoreMark, _day: date, names: Names) -> str:
    where = names.place(what.tank, what.rack)
    if what.because is None:
        return f"{names.chore(what.chore)} done, {where}"
    return f"{names.chore(what.chore)} left out, {where}: {names.reason(what.because)}"


CHORE = declare(
    EntryKind(
        name="chore",
        made=ChoreMark,
        meaning="a chore that was done or left out",
        words=_words,
        mark=lambda _: ("chore", "done"),
    )
)
