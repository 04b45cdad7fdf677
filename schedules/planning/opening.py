"""Opening a day: its plan is written down, once for each morning or first of today alone and then of the days after."""

from __future__ import annotations

from contextlib import suppress
from datetime import datetime, timedelta

from schedules.history import History, history_of, looking_ahead, refresh
from schedules.ledger.entries import AlreadyMarked
from schedules.ledger.ledger import Ledger
from schedules.planning.horizon import ENOUGH_DAYS, HORIZON_DAYS, goes_on, is_posted
from schedules.room import Room


def open_day(room: Room, ledger: Ledger, now: datetime, *, at_once: bool = False) -> History:
    """The history as of now, after posting the plan of the coming days where it was not posted yet.

    With `at_once` only today is planned, which takes a fraction of the time; opening the day again without it adds the
    days after. Both follow what was posted a day ago where that goes on. Two programs may do this at the same moment:
    the ledger takes one posting for each start and one that continues it, and both use these.
    """
    today = room.day(now)
    history = history_of(ledger, today)
    posted = is_posted(history, today)
    if posted and (at_once or goes_on(history.posting(today), today)):
        return history
    # Imported here and not above: a day whose plan is posted already is opened without all that makes one.
    from schedules.planning.posting import carry_on, only_today, today_and_on

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
