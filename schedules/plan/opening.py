"""Opening a day: its plan is written down, once for each morning or first of today alone and then of the days after."""

from __future__ import annotations

from contextlib import suppress
from datetime import date, datetime, timedelta
from typing import Final

from schedules.history import History, history_of, looking_ahead, refresh
from schedules.ledger.entries import AlreadyMarked, Posting
from schedules.ledger.ledger import Ledger
from schedules.room import Room

ENOUGH_DAYS: Final = 14
"""A posting that reaches this far ahead is carried on; a shorter rest says too little of a month."""


def goes_on(posting: Posting | None, today: date) -> bool:
    """Whether the plan of the coming days can carry on what was posted, instead of being made from nothing."""
    return posting is not None and posting.covers(today) and posting.covers(today + timedelta(days=ENOUGH_DAYS - 1))


def is_posted(history: History, today: date) -> bool:
    """Whether today's plan was already posted: each morning has a posting of its own."""
    posting = history.posting(today)
    return posting is not None and posting.start == today


def open_day(room: Room, ledger: Ledger, now: datetime, *, at_once: bool = False) -> History:
    """The history as of now, after posting the plan of the coming days where it was not posted yet.

    With `at_once` only today is planned, which takes a fraction of the time; opening the day again without it adds the
    days after. Both follow what was posted a day ago where that goes on. Two programs may do this at the same moment:
    the ledger takes one posting for each start and one that continues it, and both go by these.
    """
    today = room.day(now)
    history = history_of(ledger, today)
    posted = is_posted(history, today)
    if posted and (at_once or goes_on(history.posting(today), today)):
        return history
    # Imported here and not above: a day whose plan is posted already is opened without all that makes one.
    from schedules.plan.posting import HORIZON_DAYS, carry_on, only_today, today_and_on

    ahead = looking_ahead(history, ledger, (ENOUGH_DAYS if at_once else HORIZON_DAYS) - 1)
    if posted:
        made = today_and_on(room, ahead, today, ledger.posting(today - timedelta(days=1)))
    elif at_once:
        made = only_today(room, ahead, today)
    else:
        made = carry_on(room, ahead, today)
    with suppress(AlreadyMarked):
        ledger.append([made], day=today, at=now, by=None)
    return refresh(history, ledger)
