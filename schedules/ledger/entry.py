"""One line of the ledger, and the ways in which a ledger can refuse."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime


class What:
    """What an entry says. Each kind is a frozen dataclass of its own, declared in one file of `entries/`."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the ledger.

    An *act* is what a keeper did with one key or command; it may make several entries (a whole stop marked) and is
    undone as one. `seq` counts up from 1 without gaps; `act` is the `seq` of the first entry of the same act; `day` is
    the room's date that the entry is about; `at` is the aware UTC instant at which it was written; `by` is the
    keeper's name or None for the program itself.
    """

    seq: int
    act: int
    day: date
    at: datetime
    by: str | None
    what: What


def tank_of(what: What) -> str | None:
    """The tank that an entry is about, None where it is about none or about the whole room."""
    tank: str | None = getattr(what, "tank", None)
    return tank


def feed_of(what: What) -> str | None:
    """The feed that an entry is about, None where it is about none."""
    feed: str | None = getattr(what, "feed", None)
    return feed


def subject_of(what: What) -> str | None:
    """What an entry is about beside its tank: a feed, or a chore with its rack; None where it is about neither."""
    subject: str | None = getattr(what, "subject", None)
    return feed_of(what) if subject is None else subject


class LedgerFault(Exception):
    """The ledger could not be read or written; the text says what happened, to which file and what to do."""


class LostEnd(LedgerFault):
    """The entries written last are not in the file: `missing` says how many, None where it is another ledger."""

    def __init__(self, text: str, missing: int | None) -> None:
        super().__init__(text)
        self.missing = missing


class AlreadyMarked(Exception):
    """Somebody already marked one of these servings: `winner` is the entry that holds."""

    def __init__(self, winner: Entry) -> None:
        super().__init__(f"already marked by {winner.by or 'the program'} at {winner.at.isoformat()}")
        self.winner = winner
