"""What holds now: the ledger's entries with the undone ones taken out, by day and tank. Pure values, no store."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from schedules.ledger.entries import Entry, Noted, Observed, PostedServing, Posting, Served, Skipped, Undone

LOOK_BACK_DAYS = 60
"""How many days before today a history holds; what lies further back is kept only as first and last servings."""


def standing(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries that still hold: neither undone nor themselves undos, in the order given."""
    listed = tuple(entries)
    undone = {entry.what.act for entry in listed if isinstance(entry.what, Undone)}
    return tuple(entry for entry in listed if not isinstance(entry.what, Undone) and entry.act not in undone)


@dataclass(frozen=True)
class History:
    """The part of the ledger that decisions need: standing entries about the days `first` to `last`, and what was due.

    `last_before` and `first_ever` reach back further than `first`: the last day before `first` on which a feed was
    given to a tank, and the first day it was ever given.
    """

    first: date
    last: date
    entries: tuple[Entry, ...]
    postings: tuple[Posting, ...]
    last_before: Mapping[tuple[str, str], date]
    first_ever: Mapping[tuple[str, str], date]

    @cached_property
    def _served(self) -> dict[tuple[str, str], list[tuple[Entry, Served]]]:
        """Servings by (tank, feed), each list by day and then by order of writing."""
        found: dict[tuple[str, str], list[tuple[Entry, Served]]] = {}
        for entry in sorted(self.entries, key=lambda entry: (entry.day, entry.seq)):
            if isinstance(entry.what, Served):
                found.setdefault((entry.what.tank, entry.what.feed), []).append((entry, entry.what))
        return found

    @cached_property
    def _by_day(self) -> dict[tuple[date, str], list[Entry]]:
        """Standing entries by (day, tank)."""
        found: dict[tuple[date, str], list[Entry]] = {}
        for entry in self.entries:
            what = entry.what
            if isinstance(what, Served | Skipped | Observed | Noted) and what.tank is not None:
                found.setdefault((entry.day, what.tank), []).append(entry)
        return found

    def about(self, tank: str, day: date) -> tuple[Entry, ...]:
        """Standing entries about a tank on a day, in the order they were written."""
        return tuple(self._by_day.get((day, tank), ()))

    def served_on(self, tank: str, day: date) -> tuple[tuple[Entry, Served], ...]:
        """What a tank was given on a day, in the order it was written."""
        return tuple((entry, entry.what) for entry in self.about(tank, day) if isinstance(entry.what, Served))

    def servings(self, tank: str, feed: str) -> tuple[tuple[Entry, Served], ...]:
        """Every serving of a feed to a tank within the history, by day."""
        return tuple(self._served.get((tank, feed), ()))

    def last_day(self, tank: str, feed: str, before: date) -> date | None:
        """The last day before `before` on which a feed was given to a tank, None for never."""
        for entry, _ in reversed(self._served.get((tank, feed), [])):
            if entry.day < before:
                return entry.day
        return self.last_before.get((tank, feed))

    def share_on(self, tank: str, day: date) -> float:
        """The part of a tank's ration that was given on a day."""
        return sum(what.share for _, what in self.served_on(tank, day))

    def posting(self, day: date) -> Posting | None:
        """The posting in force on a day within the history."""
        found = [posting for posting in self.postings if posting.start <= day]
        return found[-1] if found else None

    def due(self, day: date) -> tuple[PostedServing, ...]:
        """What was or is due on a day: what the posting in force on it says, and nothing outside it."""
        posting = self.posting(day)
        return posting.due(day) if posting else ()

    def days(self) -> tuple[date, ...]:
        """Every day of the history, first to last."""
        return tuple(self.first + timedelta(days=number) for number in range((self.last - self.first).days + 1))
