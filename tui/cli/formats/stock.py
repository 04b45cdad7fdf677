"""What `stock` prints."""

from __future__ import annotations

from typing import Literal

from tui.cli.formats.base import Amount, Count, Day, Part


class Grams(Part):
    """Grams with their range."""

    likely: Amount
    least: Amount
    most: Amount


class Taken(Part):
    """Grams that leave the shelf for each gram given."""

    likely: Amount
    least: Amount
    most: Amount
    weighings: Count
    """how many weighings show it; 0 where it is common practice"""


class Week(Part):
    """A week of the posted plan."""

    monday: Day
    grams: Amount


class Out(Part):
    """The first day for which it may not be enough; null where that lies further away than two years."""

    first: Day | None
    likely: Day | None
    last: Day | None


class Pack(Part):
    """The pack that is open."""

    lot: str | None
    opened: Day
    use_by: Day | None


class Order(Part):
    """What to order, not later than `by`."""

    by: Day
    grams: Amount
    packs: Count | None


class FeedOnShelf(Part):
    """One feed."""

    feed: str
    grams: Grams | None
    """null where it was never weighed and nothing was delivered"""
    since: Day | None
    weighed: bool
    """whether `since` is the day of a weighing; else of a delivery"""
    given: Amount
    """grams given since"""
    taken: Taken | None
    a_day: Amount
    """grams that leave the shelf on a usual day"""
    weeks: list[Week]
    out: Out
    pack: Pack | None
    unused: Amount
    """grams that will not be used before the date of the open pack"""
    order: Order | None


class Stock(Part):
    """`rackround stock --json`: feeds in the order of the room file."""

    format: Literal["rackround-stock/1"]
    date: Day
    feeds: list[FeedOnShelf]
