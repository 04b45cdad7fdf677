"""What was missed, how long each tank has been without it, and what the plan makes of it. Never by doubling up."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from schedules.ledger.entries import PostedServing, Posting, Served, Skipped
from schedules.ledger.history import History
from schedules.room import Room

Outcome = Literal["given since", "given later", "let go"]


@dataclass(frozen=True, slots=True)
class Missed:
    """One missed serving.

    `without` counts the days from the feed's last serving to today (None: never given), `max_gap` the most it should
    be. `outcome` says what becomes of it and `on` the day: given since then, given later than it was due but earlier
    than its next turn would have been, or let go (`on` is then its next turn, None where the plan has none).
    """

    day: date
    due: PostedServing
    without: int | None
    max_gap: int
    outcome: Outcome
    on: date | None

    @property
    def overdue(self) -> bool:
        """Whether the tank is beyond the feed's longest gap."""
        return self.without is not None and self.without >= self.max_gap


def missed(room: Room, history: History, postings: Sequence[Posting], today: date, since: date) -> tuple[Missed, ...]:
    """The servings missed from `since` to yesterday: those of shrimplets first, then the longest without.

    `postings` are those in force on these days and today, whole: what a plan meant to do next is read off them.
    """
    turns = _Turns(postings, today)
    found = [
        _missed(room, history, turns, today, day, due)
        for day in _days(max(since, history.first), today)
        for due in history.due(day)
        if due.tank in room.tanks and not _settled(history, day, due)
    ]
    return tuple(sorted(found, key=lambda gap: _consequence(room, gap)))


def unposted_days(history: History, today: date, since: date) -> tuple[date, ...]:
    """Past days of which no posting says anything, from the first posting on: nothing was written down for them."""
    begun = min((posting.start for posting in history.postings), default=today)
    return tuple(
        day
        for day in _days(max(since, history.first, begun), today)
        if not ((posting := history.posting(day)) and posting.covers(day))
    )


def _days(first: date, today: date) -> Iterable[date]:
    return (first + timedelta(days=number) for number in range((today - first).days))


def _settled(history: History, day: date, due: PostedServing) -> bool:
    return any(
        isinstance(entry.what, Served | Skipped) and entry.what.feed == due.feed
        for entry in history.about(due.tank, day)
    )


def _missed(room: Room, history: History, turns: _Turns, today: date, day: date, due: PostedServing) -> Missed:
    last = history.last_day(due.tank, due.feed, today + timedelta(days=1))
    tank, feed = room.tanks[due.tank], room.feeds.get(due.feed)
    rules = tank.feeds.get(due.feed) or (feed.rules if feed else None)
    outcome, on = _outcome(turns, last, day, due)
    return Missed(
        day=day,
        due=due,
        without=None if last is None else (today - last).days,
        max_gap=rules.max_gap if rules else 0,
        outcome=outcome,
        on=on,
    )


def _outcome(turns: _Turns, last: date | None, day: date, due: PostedServing) -> tuple[Outcome, date | None]:
    """Later means earlier than the turn that the plan in force on the missed day had next: else it is let go."""
    if last is not None and last > day:
        return "given since", last
    then, now = turns.after(day, due), turns.coming(due)
    if now is not None and (then is None or now < then):
        return "given later", now
    return "let go", now


def _consequence(room: Room, gap: Missed) -> tuple[bool, bool, int, date, str, str]:
    """Shrimplets first, then what is beyond its longest gap, then the longest without."""
    shrimplets = "shrimplet" in room.tanks[gap.due.tank].stages(gap.day)
    without = 9999 if gap.without is None else gap.without
    return not shrimplets, not gap.overdue, -without, gap.day, gap.due.tank, gap.due.feed


class _Turns:
    """The days on which postings give each feed to each tank, each day looked through once."""

    def __init__(self, postings: Sequence[Posting], today: date) -> None:
        self.postings = postings
        self.today = today
        self.known: dict[tuple[date, int], frozenset[tuple[str, str]]] = {}

    def after(self, day: date, due: PostedServing) -> date | None:
        """The next turn after a missed day in the posting that was in force on it."""
        posting = self._in_force(day)
        return None if posting is None else self._next(posting, due, day + timedelta(days=1))

    def coming(self, due: PostedServing) -> date | None:
        """The next turn from today on in the posting in force today."""
        posting = self._in_force(self.today)
        return None if posting is None else self._next(posting, due, self.today)

    def _in_force(self, day: date) -> Posting | None:
        return next((posting for posting in reversed(self.postings) if posting.start <= day), None)

    def _next(self, posting: Posting, due: PostedServing, first: date) -> date | None:
        numbers = range(max(0, (first - posting.start).days), len(posting.days))
        found = (number for number in numbers if (due.tank, due.feed) in self._given(posting, number))
        return next((posting.start + timedelta(days=number) for number in found), None)

    def _given(self, posting: Posting, number: int) -> frozenset[tuple[str, str]]:
        """What a posting gives on one of its days; the next turn is mostly a few days ahead, so few are looked at."""
        if (posting.start, number) not in self.known:
            given = frozenset((serving.tank, serving.feed) for serving in posting.days[number])
            self.known[posting.start, number] = given
        return self.known[posting.start, number]
