"""A plan as values: what is due on each of the coming days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.entry import What
from schedules.ledger.fields import Field
from schedules.room.kinds import Method


@dataclass(frozen=True, slots=True)
class PostedServing:
    """A serving as it was due."""

    tank: Annotated[str, Field("the tank")]
    feed: Annotated[str, Field("the feed")]
    round: Annotated[str, Field("the round")]
    part: Annotated[float, Field("what it takes of the table's ration of that day", unit="1 is all of it")]
    amount: Annotated[float, Field("how much", unit="measures named in `unit`")]
    unit: Annotated[str, Field("the feed's measure")]
    amount_mg: Annotated[float, Field("how much", unit="mg")]
    method: Annotated[Method, Field("how it is given")]


@dataclass(frozen=True, slots=True)
class Posting(What):
    """A plan written down: what is due on `days` days from `start`, each day a tuple in walking order.

    What was due on a past day is what the latest posting that starts on or before that day says of it, for good. A
    posting may be continued by another with the same start, which says the same days again and then more of them.
    """

    start: date
    days: tuple[tuple[PostedServing, ...], ...]

    def due(self, day: date) -> tuple[PostedServing, ...]:
        """What is due on a day; empty outside the posting."""
        number = (day - self.start).days
        return self.days[number] if 0 <= number < len(self.days) else ()

    def covers(self, day: date) -> bool:
        """Whether this posting says anything of a day."""
        return 0 <= (day - self.start).days < len(self.days)

    def continues(self, other: Posting) -> bool:
        """Whether this says the days of another posting again, and then more days."""
        said = len(other.days)
        return self.start == other.start and said < len(self.days) and self.days[:said] == other.days
