"""A pack of a feed that was opened: from then on it is what the animals get."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field


@dataclass(frozen=True, slots=True)
class Opened(What):
    """A pack that was opened; `lot` as the pack names it, None where it names none."""

    feed: Annotated[str, Field("the feed", empty=False)]
    lot: Annotated[str | None, Field("the lot as the pack names it", empty=False)] = None


def _words(what: Opened, _day: date, names: Names) -> str:
    text = f"a pack of {names.feed(what.feed)} opened"
    return text if what.lot is None else f"{text}, lot {what.lot}"


OPENED = declare(EntryKind(name="opened", made=Opened, meaning="a pack of a feed that was opened", words=_words))
