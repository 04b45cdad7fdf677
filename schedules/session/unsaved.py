"""Marks that the ledger would not take: kept in order, tried again, never dropped unless somebody else made them."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from schedules.ledger import AlreadyMarked, Ledger, Served, Skipped, What


@dataclass(frozen=True, slots=True)
class Mark:
    """One act as it will be written: what, the day it is about, when and by whom it was done, and how it is told."""

    what: tuple[What, ...]
    day: date
    at: datetime
    by: str
    text: str


class Unsaved:
    """The marks that wait for the ledger, oldest first."""

    def __init__(self) -> None:
        self.marks: list[Mark] = []

    def __len__(self) -> int:
        return len(self.marks)

    def keep(self, mark: Mark) -> None:
        """Keep a mark until the ledger takes it."""
        self.marks.append(mark)

    def take_back(self) -> Mark | None:
        """Let go of the newest mark; it was never written."""
        return self.marks.pop() if self.marks else None

    def drop(self, marks: Collection[Mark]) -> None:
        """Let go of some marks; they were never written."""
        self.marks = [mark for mark in self.marks if mark not in marks]

    def settles(self, day: date, tank: str, feed: str) -> bool:
        """Whether one of these marks gives or skips a feed in a tank on a day."""
        return any(
            isinstance(what, Served | Skipped) and (mark.day, what.tank, what.feed) == (day, tank, feed)
            for mark in self.marks
            for what in mark.what
        )

    def write(self, ledger: Ledger) -> Sequence[Mark]:
        """Write them in order; what somebody else marked meanwhile is left out and comes back. Raises `LedgerFault`."""
        beaten = []
        while self.marks:
            mark = self.marks[0]
            try:
                ledger.append(mark.what, day=mark.day, at=mark.at, by=mark.by)
            except AlreadyMarked:
                beaten.append(mark)
            self.marks.pop(0)
        return beaten
