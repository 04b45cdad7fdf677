"""Reading the shelf of a room from its ledger, at the cost of what was given since it was last weighed twice."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from schedules.history import History
from schedules.history.leave import with_leave
from schedules.ledger import Delivered, Entry, Ledger, Opened, Posting, Served, Undone, Weighed, feed_of
from schedules.ledger.entries.served import SERVED
from schedules.ledger.entries.stock.delivered import DELIVERED
from schedules.ledger.entries.stock.opened import OPENED
from schedules.ledger.entries.stock.weighed import WEIGHED
from schedules.room import Room
from schedules.stock.outlook import Outlook, outlook_of
from schedules.stock.packs import open_packs
from schedules.stock.shelf import shelf_of

KINDS: Final = (DELIVERED.name, OPENED.name, WEIGHED.name)
LOOKED_BACK: Final = 365
"""So many days back weighings and deliveries are read: enough to find out what is lost."""
LEAST_DAYS: Final = 7
"""So many days of plan say what is given on a day as a rule; else what was given lately does."""
LATELY: Final = 28


@dataclass(frozen=True, slots=True)
class Stock:
    """The shelf of a room on a day: each feed of the room file, in its order."""

    day: date
    feeds: tuple[Outlook, ...]

    @property
    def orders(self) -> tuple[Outlook, ...]:
        """Those that have to be ordered some day, the most pressing first."""
        due = [each for each in self.feeds if each.order is not None]
        return tuple(sorted(due, key=lambda each: each.order.by if each.order else self.day))

    @property
    def order_now(self) -> tuple[Outlook, ...]:
        """Those that may run out before an order would come that is made today, the most pressing first."""
        return tuple(each for each in self.orders if each.order is not None and each.order.by <= self.day)


def shelf_entries(ledger: Ledger) -> tuple[Entry, ...]:
    """Everything that stands about the shelf."""
    return tuple(entry for kind in KINDS for entry in ledger.of_kind(kind))


def touches_shelf(entries: Iterable[Entry]) -> bool:
    """Whether entries say something of the shelf, or take back what may have."""
    return any(isinstance(entry.what, Delivered | Opened | Weighed | Undone) for entry in entries)


def stock_of(ledger: Ledger, room: Room, history: History, today: date) -> Stock:
    """What is there of each feed, when it runs out, what to order, by what was entered up to the day `today`.

    `history` knows what was given on that day, and on which days a helper feeds by a leave plan. What is given on a day
    as a rule is what was posted, so that days away do not lower it.
    """
    shelf = tuple(entry for entry in shelf_entries(ledger) if entry.day <= today)
    recent = [entry for entry in shelf if entry.day > today - timedelta(days=LOOKED_BACK)]
    weighed = [entry.day for entry in recent if isinstance(entry.what, Weighed | Delivered)]
    first = min([*weighed, today - timedelta(days=LATELY)])
    served = ledger.of_kind(SERVED.name, first - timedelta(days=1))
    packs, posting = open_packs(room, shelf), ledger.posting(today)
    held = None if posting is None else with_leave(posting, history.leave)
    found = []
    for feed in room.feeds.values():
        own = [entry for entry in (*recent, *served) if feed_of(entry.what) == feed.id and entry.day <= today]
        posted = _planned(posting, history, feed.id, today)
        planned = posted if held is posting else _planned(held, history, feed.id, today)
        usual = sum(posted) / len(posted) if len(posted) >= LEAST_DAYS else _lately(own, today)
        found.append(outlook_of(feed, today, planned, usual, shelf_of(own), packs.get(feed.id)))
    return Stock(today, tuple(found))


def _planned(posting: Posting | None, history: History, feed: str, today: date) -> list[float]:
    """Grams of a feed that are still to be given on each day from today on, as far as is posted."""
    if posting is None:
        return []
    tanks = {each.tank for each in posting.due(today)}
    today_given = (served for tank in tanks for _, served in history.served_on(tank, today))
    given = {(served.tank, served.round) for served in today_given if served.feed == feed}
    last = (posting.start - today).days + len(posting.days)
    return [
        sum(
            serving.amount_mg / 1000
            for serving in posting.due(today + timedelta(days=number))
            if serving.feed == feed and not (number == 0 and (serving.tank, serving.round) in given)
        )
        for number in range(last)
    ]


def _lately(entries: Iterable[Entry], today: date) -> float:
    """Grams given on a day of the last four weeks."""
    since = today - timedelta(days=LATELY)
    mg = sum(each.what.amount_mg for each in entries if isinstance(each.what, Served) and since <= each.day < today)
    return mg / 1000 / LATELY
