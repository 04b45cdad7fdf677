"""What the flags look at: a room and its history over the last days."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property

from schedules.history import History
from schedules.ledger.entries import Entry, Observed, Served
from schedules.room import Feed, FeedRules, Room, Tank

Serving = tuple[Entry, Served]


@dataclass(frozen=True)
class Context:
    """A room, its history, and the days looked at: `first` to `today`. Tanks and feeds no longer kept are left out."""

    room: Room
    history: History
    now: datetime
    first: date
    today: date

    @cached_property
    def days(self) -> tuple[date, ...]:
        """The days looked at, oldest first."""
        return tuple(self.first + timedelta(days=number) for number in range((self.today - self.first).days + 1))

    def tanks(self) -> Iterator[Tank]:
        """The tanks in walking order."""
        return (self.room.tanks[tank] for tank in self.room.walk)

    def known(self, tank: Tank) -> Iterator[tuple[Feed, FeedRules]]:
        """Every feed in stock with the rules it has in a tank."""
        return ((feed, self.rules(tank, feed)) for feed in self.room.feeds.values())

    def rules(self, tank: Tank, feed: Feed) -> FeedRules:
        """The rules of a feed in a tank: the tank's own where it takes this feed, else the feed's."""
        return tank.feeds.get(feed.id, feed.rules)

    def within(self, day: date) -> bool:
        """Whether a day is one of those looked at."""
        return self.first <= day <= self.today

    def served(self, tank: Tank, feed: Feed) -> tuple[Serving, ...]:
        """Servings of a feed to a tank up to today, by day; also those before the days looked at."""
        served = self.history.servings(tank.id, feed.id)
        if not served or served[-1][0].day <= self.today:
            return served
        return tuple(found for found in served if found[0].day <= self.today)

    def dirty(self, tank: Tank) -> frozenset[str]:
        """Every feed of which leftovers were reported in a tank within the history."""
        return frozenset(
            entry.what.feed
            for day in self.history.days()
            for entry in self.history.about(tank.id, day)
            if isinstance(entry.what, Observed) and entry.what.leftovers != "none"
        )

    def served_on(self, tank: Tank, day: date) -> tuple[Serving, ...]:
        """What a tank was given on a day, feeds in stock only."""
        return tuple(found for found in self.history.served_on(tank.id, day) if found[1].feed in self.room.feeds)
