"""A due serving that was deliberately not given."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import Content, Earlier, EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field
from schedules.ledger.reason import Reason


@dataclass(frozen=True, slots=True)
class Skipped(What):
    """A due serving deliberately not given, and why. It is a mark, as a serving is."""

    tank: Annotated[str, Field("the tank")]
    feed: Annotated[str, Field("the feed")]
    round: Annotated[str, Field("the round")]
    because: Annotated[Reason, Field('why: the rule that was kept, or "other" with the keeper\'s own `text`')]


def _with_reason(content: Content) -> Content:
    """Version 1 had a sentence, the keeper's or the program's."""
    return content | {"because": {"code": "other", "text": content["because"]}}


def _words(what: Skipped, _day: date, names: Names) -> str:
    return f"{names.feed(what.feed)} skipped in {names.tank(what.tank)}, {names.reason(what.because)}"


SKIPPED = declare(
    EntryKind(
        name="skipped",
        made=Skipped,
        meaning="a due serving that was not given, and why",
        words=_words,
        mark=lambda what: ("serving", what.round),
        earlier=(Earlier(("tank", "feed", "round", "because"), _with_reason),),
    )
)
