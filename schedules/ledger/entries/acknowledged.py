"""A flag that a keeper has seen."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import Content, Earlier, EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field
from schedules.room.kinds import Severity


@dataclass(frozen=True, slots=True)
class Acknowledged(What):
    """A flag seen by a keeper: its tank, feed, kind, severity and extent as they were then.

    The entry's day is the flag's day. `flag` is a plain text, so that a ledger outlives the kinds a program knows of.
    """

    tank: Annotated[str, Field("the flag's tank")]
    feed: Annotated[str | None, Field("the flag's feed, null for the tank as a whole")]
    flag: Annotated[str, Field("the flag's kind", empty=False)]
    severity: Annotated[Severity, Field("how bad it was then")]
    extent: Annotated[float, Field("how much of it there was then", unit="the flag's own measure")]


def _with_medium(content: Content) -> Content:
    return content | {"severity": "medium" if content["severity"] == "middle" else content["severity"]}


def _words(what: Acknowledged, day: date, names: Names) -> str:
    return f"flag of {names.tank(what.tank)} seen: {names.flag(what.flag, what.feed)}, {names.day(day)}"


ACKNOWLEDGED = declare(
    EntryKind(
        name="acknowledged",
        made=Acknowledged,
        meaning="a flag that a keeper has seen; its day is the flag's day",
        words=_words,
        earlier=(Earlier(("tank", "feed", "flag", "severity", "extent"), _with_medium),),
    )
)
