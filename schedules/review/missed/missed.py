"""What was missed, how long each tank has been without it, and what the plan makes of it. Never by doubling up."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from schedules.history import History
from schedules.ledger.entries import PostedServing, Served, Skipped
from schedules.review.missed.turns import Turns
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


def missed(room: Room, history: History, turns: Turns, today: date, since: date) -> tuple[Missed, ...]:
    """The servings missed from `since` to yesterday: those of shrimplets first, then the longest without.

    `turns` are those of the postings in force on these days and today: what a plan meant to do next is read off them.
    """
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


def _missed(room: Room, history: History, turns: Turns, today: date, day: date, due: PostedServing) -> Missed:
    last = history.last_day(due.tank, due.feed, today + timedelta(days=1))
    tank, feed = room.tanks[due.tank], room.feeds.get(due.feed)
    rules = tank.feeds.get(due.feed) or (feed.rules if feed else None)
    outcome, on = _outcome(turns, today, last, day, due)
    return Missed(
        day=day,
        due=due,
        without=None if last is None else (today - last).days,
        max_gap=rules.max_gap if rules else 0,
        outcome=outcome,
        on=on,
    )


def _outcome(
    turns: Turns, today: date, last: date | None, day: date, due: PostedServing
) -> tuple[Outcome, date | None]:
    """Later means earlier than the turn that the plan in force on the missed day had next: else it is let go."""
    if last is not None and last > day:
        return "given since", last
    then, now = turns.after(day, due), turns.coming(today, due)
    if now is not None and (then is None or now < then):
        return "given later", now
    return "let go", now


def _consequence(room: Room, gap: Missed) -> tuple[bool, bool, int, date, str, str]:
    """Shrimplets first, then what is beyond its longest gap, then the longest without."""
    shrimplets = "shrimplet" in room.tanks[gap.due.tank].stages(gap.day)
    without = 9999 if gap.without is None else gap.without
    return not shrimplets, not gap.overdue, -without, gap.day, gap.due.tank, gap.due.feed
