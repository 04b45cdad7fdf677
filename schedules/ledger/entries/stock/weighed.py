"""What was on the shelf of a feed when it was weighed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entries.stock.delivered import MOST_GRAMS
from schedules.ledger.entry import What
from schedules.ledger.fields import Field


@dataclass(frozen=True, slots=True)
class Weighed(What):
    """Grams of a feed found on the shelf, all packs together; 0 where none is left."""

    feed: Annotated[str, Field("the feed", empty=False)]
    grams: Annotated[float, Field("how much there is", unit="g", most=MOST_GRAMS)]


def _words(what: Weighed, _day: date, names: Names) -> str:
    return f"{names.grams(what.grams)} of {names.feed(what.feed)} on the shelf"


WEIGHED = declare(EntryKind(name="weighed", made=Weighed, meaning="what was on the shelf of a feed", words=_words))
