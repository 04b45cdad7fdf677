"""What holds now: the ledger's entries with the undone ones taken out, by day and tank. Pure values, no store."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from schedules.history.leave import Leave
from schedules.history.lookups import Lookups
from schedules.history.projection import ABOUT, CHORES, GIVEN, WATER
from schedules.ledger import Entry, PostedServing, Posting, Served

Serving = tuple[Entry, Served]
LOOK_BACK_DAYS = 28
"""How many days before today a history holds: four whole weeks, so that a ledger of ten years opens like one of a
month. What lies further back is kept only as first and last servings; who wants to look further asks for more."""

WATER_DAYS = 84
"""So far back reach readings of the water: twelve weeks, in which a slow drift shows."""


@dataclass(frozen=True)
class History:
    """The part of the ledger that decisions need: standing entries about the days `first` to `last`, and what was due.

    `last_before` and `first_ever` reach back further than `first`: the last day before `first` on which a feed was
    given to a tank, and the first day it was ever given. `chores_before` holds the last day before `first` on which a
    chore was marked, by tank ("" for none) and subject. `water` holds the standing entries about the water, which
    reach further back too. `leave` holds the days from `first` on, those ahead too, on which a helper feeds by a leave
    plan instead of by what was posted. `seq` is the number of the newest entry it knows of.
    """

    first: date
    last: date
    entries: tuple[Entry, ...]
    postings: tuple[Posting, ...]
    last_before: Mapping[tuple[str, str], date]
    first_ever: Mapping[tuple[str, str], date]
    seq: int = 0
    chores_before: Mapping[tuple[str, str], date] = field(default_factory=dict)
    water: tuple[Entry, ...] = ()
    leave: Leave = field(default_factory=dict)
    lookups: Lookups = field(default_factory=Lookups, init=False, compare=False, repr=False)

    def about(self, tank: str, day: date) -> tuple[Entry, ...]:
        """Standing entries about a tank on a day, in the order they were written."""
        return self.lookups.state(ABOUT, self.entries).get((day, tank), ())

    def served_on(self, tank: str, day: date) -> tuple[Serving, ...]:
        """What a tank was given on a day, in the order it was written."""
        return _servings(self.about(tank, day))

    def servings(self, tank: str, feed: str) -> tuple[Serving, ...]:
        """Every serving of a feed to a tank within the history, by day."""
        return _servings(self._given(tank, feed))

    def water_of(self, tank: str) -> tuple[Entry, ...]:
        """What was read in a tank's water and done to it, by day, time of day and order of writing."""
        return self.lookups.state(WATER, self.water).get(tank, ())

    def _given(self, tank: str, feed: str) -> tuple[Entry, ...]:
        return self.lookups.state(GIVEN, self.entries).get((tank, feed), ())

    def last_day(self, tank: str, feed: str, before: date) -> date | None:
        """The last day before `before` on which a feed was given to a tank, None for never."""
        for entry in reversed(self._given(tank, feed)):
            if entry.day < before:
                return entry.day
        return self.last_before.get((tank, feed))

    def part_on(self, tank: str, day: date) -> float:
        """The part of a tank's ration that was given on a day."""
        return sum(what.part for _, what in self.served_on(tank, day))

    def chore_marks(self, tank: str, subject: str) -> tuple[Entry, ...]:
        """Every mark of a chore within the history, at a tank ("" for none), by day."""
        return self.lookups.state(CHORES, self.entries).get((tank, subject), ())

    def posting(self, day: date) -> Posting | None:
        """The posting in force on a day within the history."""
        found = [posting for posting in self.postings if posting.start <= day]
        return found[-1] if found else None

    def due(self, day: date) -> tuple[PostedServing, ...]:
        """What was or is due on a day: by the leave plan on a day away, else by the posting in force on it."""
        if day in self.leave:
            return self.leave[day].due
        posting = self.posting(day)
        return posting.due(day) if posting else ()

    def says(self, day: date) -> bool:
        """Whether a posting or a leave plan says anything of a day."""
        posting = self.posting(day)
        return day in self.leave or (posting is not None and posting.covers(day))

    def due_in(self, tank: str, day: date) -> tuple[PostedServing, ...]:
        """What was or is due in one tank on a day."""
        return self.lookups.due_in(tank, day, self.due)

    def days(self) -> tuple[date, ...]:
        """Every day of the history, first to last."""
        return tuple(self.first + timedelta(days=number) for number in range((self.last - self.first).days + 1))


def _servings(entries: Iterable[Entry]) -> tuple[Serving, ...]:
    return tuple((entry, entry.what) for entry in entries if isinstance(entry.what, Served))
