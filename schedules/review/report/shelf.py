"""The shelf in a week: what was given and came in of each feed, which packs were opened, how it stood at the end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from schedules.history import History
from schedules.ledger import Delivered, Opened, Served
from schedules.stock import Outlook, Stock


@dataclass(frozen=True, slots=True)
class ShelfWeek:
    """One feed over a week, in grams; `opened` are days and lots of packs; `outlook` is that of the week's last day."""

    feed: str
    given: float
    came: float
    opened: tuple[tuple[date, str | None], ...]
    outlook: Outlook


def shelf_of_week(history: History, stock: Stock, days: Sequence[date]) -> tuple[ShelfWeek, ...]:
    """Each feed of which anything was given or entered, in the order of the room file."""
    within = set(days)
    given: dict[str, float] = {}
    came: dict[str, float] = {}
    opened: dict[str, list[tuple[date, str | None]]] = {}
    for entry in history.entries:
        if entry.day in within:
            match entry.what:
                case Served(feed=feed, amount_mg=mg):
                    given[feed] = given.get(feed, 0.0) + mg / 1000
                case Delivered(feed=feed, grams=grams):
                    came[feed] = came.get(feed, 0.0) + grams
                case Opened(feed=feed, lot=lot):
                    opened.setdefault(feed, []).append((entry.day, lot))
    found = (
        ShelfWeek(
            each.feed, given.get(each.feed, 0.0), came.get(each.feed, 0.0), tuple(opened.get(each.feed, ())), each
        )
        for each in stock.feeds
    )
    return tuple(each for each in found if each.given or each.came or each.opened or each.outlook.shelf is not None)
