"""What was missed, how long each tank has been waiting, and what the plan makes of it. Never by doubling up."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from schedules.history import History
from schedules.history.answers import last_answered
from schedules.ledger.entries import PostedServing, Served, Skipped
from schedules.review.missed.turns import Turns
from schedules.room import Room
from schedules.room.needs import clocks_of
from schedules.room.spans import run_start

Outcome = Literal["given since", "given later", "let go"]


@dataclass(frozen=True, slots=True)
class Missed:
    """One missed serving.

    `need` is the id of the clock that weighs most of those the feed answers. `without` counts the days from its last
    answer by any feed to today (None: never answered), `max_gap` the most it should be (None: no limit). `outcome` says
    what becomes of it and `on` the day: given since then, given later than it was due but earlier than its next turn
    would have been, or let go (`on` is then its next turn, None where the plan has none).
    """

    day: date
    due: PostedServing
    need: str
    without: int | None
    max_gap: int | None
    outcome: Outcome
    on: date | None

    @property
    def overdue(self) -> bool:
        """Whether the tank has been waiting for as long as it may, or longer."""
        return self.without is not None and self.max_gap is not None and self.without >= self.max_gap


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
    return tuple(day for day in _days(max(since, history.first, begun), today) if not history.says(day))


def _days(first: date, today: date) -> Iterable[date]:
    return (first + timedelta(days=number) for number in range((today - first).days))


def _settled(history: History, day: date, due: PostedServing) -> bool:
    return any(
        isinstance(entry.what, Served | Skipped) and entry.what.feed == due.feed
        for entry in history.about(due.tank, day)
    )


def _missed(room: Room, history: History, turns: Turns, today: date, day: date, due: PostedServing) -> Missed:
    tomorrow = today + timedelta(days=1)
    last = history.last_day(due.tank, due.feed, tomorrow)
    need, feeds, max_gap = _need(room, due, day)
    answered = last_answered(history, due.tank, feeds, tomorrow)
    outcome, on = _outcome(turns, today, last, day, due)
    return Missed(
        day=day,
        due=due,
        need=need,
        without=None if answered is None else (today - answered[0]).days,
        max_gap=max_gap,
        outcome=outcome,
        on=on,
    )


def _need(room: Room, due: PostedServing, day: date) -> tuple[str, tuple[str, ...], int | None]:
    """The clock that weighs most of those a feed answers on a day, its feeds and its longest gap.

    Where the tank needs the feed for nothing any more, the feed itself stands for it.
    """
    clocks = [
        (clock.rules.overdue or 0.0, name)
        for name, clock in clocks_of(room, room.tanks[due.tank]).items()
        if due.feed in clock.feeds and run_start(clock.spans, day) is not None
    ]
    if not clocks:
        return due.feed, (due.feed,), None
    _, name = max(clocks)
    clock = clocks_of(room, room.tanks[due.tank])[name]
    return name, clock.feeds, clock.rules.max_gap


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
