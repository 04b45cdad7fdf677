"""Missed servings put together: by what follows from them, and then by tank and feed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from schedules.review.missed.missed import Missed

Consequence = Literal["overdue", "given_later", "let_go", "given_since"]
CONSEQUENCES: Final[tuple[Consequence, ...]] = ("overdue", "given_later", "let_go", "given_since")
"""What follows from a missed serving, the worst first."""


@dataclass(frozen=True, slots=True)
class MissedFeed:
    """All missed servings of a feed in a tank: their days, oldest first, and the newest of them."""

    days: tuple[date, ...]
    newest: Missed

    @property
    def tank(self) -> str:
        """The tank."""
        return self.newest.due.tank

    @property
    def consequence(self) -> Consequence:
        """What follows: the tank is beyond its longest gap, or what becomes of the newest of them."""
        if self.newest.outcome == "given since":
            return "given_since"
        if self.newest.overdue:
            return "overdue"
        return "given_later" if self.newest.outcome == "given later" else "let_go"


@dataclass(frozen=True, slots=True)
class MissedGroup:
    """The tanks that one thing follows for, in the order given, each with its feeds."""

    consequence: Consequence
    tanks: tuple[tuple[str, tuple[MissedFeed, ...]], ...]


def by_consequence(found: Iterable[Missed]) -> tuple[MissedGroup, ...]:
    """The missed servings of some days in groups, the worst consequence first; groups with nothing in them left out."""
    by_feed: dict[tuple[str, str], list[Missed]] = {}
    for gap in found:
        by_feed.setdefault((gap.due.tank, gap.due.feed), []).append(gap)
    feeds = [_feed(gaps) for gaps in by_feed.values()]
    groups = ((each, [feed for feed in feeds if feed.consequence == each]) for each in CONSEQUENCES)
    return tuple(MissedGroup(each, _by_tank(listed)) for each, listed in groups if listed)


def _feed(gaps: list[Missed]) -> MissedFeed:
    ordered = sorted(gaps, key=lambda gap: gap.day)
    return MissedFeed(tuple(gap.day for gap in ordered), ordered[-1])


def _by_tank(feeds: list[MissedFeed]) -> tuple[tuple[str, tuple[MissedFeed, ...]], ...]:
    found: dict[str, list[MissedFeed]] = {}
    for feed in feeds:
        found.setdefault(feed.tank, []).append(feed)
    return tuple((tank, tuple(listed)) for tank, listed in found.items())
