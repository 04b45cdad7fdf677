"""How the animals came to a feed, some minutes after it went in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Literal

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field

Response = Literal["fast", "slowly", "nobody"]


@dataclass(frozen=True, slots=True)
class Came(What):
    """How the animals of a tank came to a feed."""

    tank: Annotated[str, Field("the tank")]
    feed: Annotated[str, Field("the feed")]
    came: Annotated[Response, Field("how they came to it")]


def _words(what: Came, _day: date, names: Names) -> str:
    return f"came to {names.feed(what.feed)} in {names.tank(what.tank)}: {what.came}"


CAME = declare(EntryKind(name="came", made=Came, meaning="how the animals came to a feed", words=_words))
