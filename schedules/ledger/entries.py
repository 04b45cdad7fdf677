"""What the ledger holds: entries that are only ever added.

An *act* is what the keeper did with one key or command; it may make several entries (a whole stop marked) and is
undone as one. An entry's act is the number of the first entry it made.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from schedules.room.kinds import Method, Severity

Leftovers = Literal["none", "some", "most"]


@dataclass(frozen=True, slots=True)
class PostedServing:
    """A serving as it was due: what, how much (`amount` of `unit`, and mg), how, what part of the ration."""

    tank: str
    feed: str
    round: str
    part: float
    amount: float
    unit: str
    amount_mg: float
    method: Method


@dataclass(frozen=True, slots=True)
class Posting:
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


@dataclass(frozen=True, slots=True)
class Served:
    """A feed given to a tank: how much, and what part of the tank's ration of that day this was when it was given.

    `broke` names the rule it broke where the keeper insisted ("min_gap", "clock_gap", "ration", "again"), else None.
    """

    tank: str
    feed: str
    round: str
    amount: float
    unit: str
    amount_mg: float
    part: float
    planned: bool
    broke: str | None = None


@dataclass(frozen=True, slots=True)
class Skipped:
    """A due serving deliberately not given, and why."""

    tank: str
    feed: str
    round: str
    because: str


@dataclass(frozen=True, slots=True)
class Observed:
    """How much of a feed was found lying in a tank."""

    tank: str
    feed: str
    leftovers: Leftovers


@dataclass(frozen=True, slots=True)
class Noted:
    """A note, about one tank or (tank None) about the room."""

    tank: str | None
    text: str


@dataclass(frozen=True, slots=True)
class Acknowledged:
    """A flag seen by a keeper and set aside: the flag's tank, feed, kind, severity and extent as they were then.

    The entry's day is the flag's day. `flag` is a plain text, so that a ledger outlives the kinds a program knows of;
    `extent` is in the flag's own measure, 0 or more.
    """

    tank: str
    feed: str | None
    flag: str
    severity: Severity
    extent: float


@dataclass(frozen=True, slots=True)
class Undone:
    """The act numbered `act` does not hold any more."""

    act: int


What = Posting | Served | Skipped | Observed | Noted | Acknowledged | Undone


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the ledger.

    `seq` counts up from 1 without gaps; `act` is the `seq` of the first entry of the same act; `day` is the room's
    date that the entry is about; `at` is the aware UTC instant at which it was written; `by` is the keeper's name or
    None for the program itself.
    """

    seq: int
    act: int
    day: date
    at: datetime
    by: str | None
    what: What


class LedgerFault(Exception):
    """The ledger could not be read or written; the text says what happened, to which file and what to do."""


class AlreadyMarked(Exception):
    """Somebody already marked one of these servings: `winner` is the entry that stands."""

    def __init__(self, winner: Entry) -> None:
        super().__init__(f"already marked by {winner.by or 'the program'} at {winner.at.isoformat()}")
        self.winner = winner
