"""On which days postings give a feed to a tank: what a plan meant to do next."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from schedules.ledger.entries import PostedServing, Posting


class Turns:
    """The days on which postings give each feed to each tank, each day looked through once."""

    def __init__(self, postings: Sequence[Posting]) -> None:
        """`postings` are whole ones, by start."""
        self._postings = postings
        self._known: dict[tuple[date, int], frozenset[tuple[str, str]]] = {}

    def after(self, day: date, due: PostedServing) -> date | None:
        """The next turn after a missed day in the posting that was in force on it."""
        posting = self._in_force(day)
        return None if posting is None else self._next(posting, due, day + timedelta(days=1))

    def coming(self, today: date, due: PostedServing) -> date | None:
        """The next turn from today on in the posting in force today; beyond its end, in those before it.

        A morning is opened with today alone. The plan of the days after follows the one posted before, which says best
        what they will be.
        """
        found, first = None, today
        for posting in reversed([posting for posting in self._postings if posting.start <= today]):
            found = found or self._next(posting, due, first)
            first = max(first, posting.start + timedelta(days=len(posting.days)))
        return found

    def _in_force(self, day: date) -> Posting | None:
        return next((posting for posting in reversed(self._postings) if posting.start <= day), None)

    def _next(self, posting: Posting, due: PostedServing, first: date) -> date | None:
        numbers = range(max(0, (first - posting.start).days), len(posting.days))
        found = (number for number in numbers if (due.tank, due.feed) in self._given(posting, number))
        return next((posting.start + timedelta(days=number) for number in found), None)

    def _given(self, posting: Posting, number: int) -> frozenset[tuple[str, str]]:
        """What a posting gives on one of its days; the next turn is mostly a few days ahead, so few are looked at."""
        if (posting.start, number) not in self._known:
            given = frozenset((serving.tank, serving.feed) for serving in posting.days[number])
            self._known[posting.start, number] = given
        return self._known[posting.start, number]
