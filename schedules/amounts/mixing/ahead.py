"""Which mornings a feed is weighed for, and on which day: once a week for each feed, dry and ahead."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Final

from schedules.amounts.mixing.bottle import Asked, asked_of, bottle, weigh_ahead
from schedules.amounts.mixing.types import Bottle, Weighing
from schedules.history import History
from schedules.ledger.entries import PostedServing
from schedules.room import Room

WEEK: Final = 7


def weighing_of(room: Room, history: History, feed: str, day: date, today: Asked) -> Weighing:
    """The weighing whose cup is used on a day on which a feed is due (`today`: tanks and mg).

    Each feed has its own weekday, so that not all are weighed on one morning; it is weighed on the first day from there
    on on which it is due, for the days of that week, as the plan posted on that day has them. This follows from the
    ledger alone: nothing is written down of cups.
    """
    first = day - timedelta(days=(day.weekday() - _weekday(room, feed)) % WEEK)
    weighed_on = next((on for on in _days(first, day) if _asked(room, history.due(on), feed)), day)
    posting = history.posting(weighed_on)
    mornings = []
    for on in _days(weighed_on, first + timedelta(days=WEEK - 1)):
        planned = history.due(on) if on in history.leave else posting.due(on) if posting else ()
        asked = _asked(room, planned, feed) or (today if on == weighed_on else ())
        if asked:
            mornings.append((on, asked))
    return weigh_ahead(room.feeds[feed], mornings, room.tools)


def bottles(room: Room, history: History, servings: Iterable[PostedServing], day: date) -> tuple[Bottle, ...]:
    """The bottles of a round, one for each feed that is mixed, in the order of the stock."""
    return tuple(
        bottle(room.feeds[feed], asked, room.tools, weighing_of(room, history, feed, day, asked), day)
        for feed, asked in asked_of(room, servings).items()
    )


def weighings(room: Room, history: History, servings: Iterable[PostedServing], day: date) -> tuple[Weighing, ...]:
    """What is weighed on a day, for that morning and the coming ones: the feeds whose weighing falls on it."""
    found = (weighing_of(room, history, feed, day, asked) for feed, asked in asked_of(room, servings).items())
    return tuple(each for each in found if each.day == day)


def _weekday(room: Room, feed: str) -> int:
    fine = [each.id for each in room.feeds.values() if each.fine]
    return (fine.index(feed) if feed in fine else 0) % WEEK


def _days(first: date, last: date) -> Iterable[date]:
    return (first + timedelta(days=number) for number in range((last - first).days + 1))


def _asked(room: Room, servings: Iterable[PostedServing], feed: str) -> Asked:
    return asked_of(room, (due for due in servings if due.feed == feed)).get(feed, ())
