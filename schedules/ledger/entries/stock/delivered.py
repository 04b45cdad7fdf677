"""A feed that was delivered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field, Malformed

MOST_GRAMS = 100_000


@dataclass(frozen=True, slots=True)
class Delivered(What):
    """Grams of a feed that came in, with the lot and the use-by date on the pack where they are known."""

    feed: Annotated[str, Field("the feed", empty=False)]
    grams: Annotated[float, Field("how much", unit="g", most=MOST_GRAMS)]
    lot: Annotated[str | None, Field("the lot as the pack names it", empty=False)] = None
    use_by: Annotated[str | None, Field("the use-by date on the pack, YYYY-MM-DD", empty=False)] = None

    def __post_init__(self) -> None:
        check_date("use_by", self.use_by)

    @property
    def use_by_day(self) -> date | None:
        """The use-by date."""
        return None if self.use_by is None else date.fromisoformat(self.use_by)


def check_date(key: str, text: str | None) -> None:
    """`Malformed` where a text is no date as it is written in the ledger."""
    try:
        sound = text is None or date.fromisoformat(text).isoformat() == text
    except ValueError:
        sound = False
    if not sound:
        raise Malformed(key, text, "a date as YYYY-MM-DD, or null")


def _words(what: Delivered, _day: date, names: Names) -> str:
    text = f"{names.grams(what.grams)} of {names.feed(what.feed)} delivered"
    if what.lot is not None:
        text += f", lot {what.lot}"
    return text if what.use_by is None else f"{text}, use by {what.use_by}"


DELIVERED = declare(EntryKind(name="delivered", made=Delivered, meaning="a feed that was delivered", words=_words))
