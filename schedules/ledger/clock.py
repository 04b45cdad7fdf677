"""The clock as it can be trusted: what is odd about now, and to which day a round belongs that crosses midnight."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

LITTLE_BACK: Final = timedelta(seconds=60)
"""Clocks are put right by seconds all the time; an earlier time than the last entry's counts as odd from here on."""
LONG_AHEAD: Final = timedelta(days=366)
"""A ledger without an entry for longer than this is more likely read under a wrong clock."""
INTO_THE_NIGHT: Final = timedelta(hours=4)
"""For how long after it began a round that crosses midnight is still walked under its own date."""


def clock_fault(newest: datetime | None, now: datetime) -> str | None:
    """What is odd about `now` beside the instant of the newest entry (both aware), None if nothing is.

    A clock that went back would count today's servings on a day that is over, so it is for the keeper to decide.
    """
    if newest is None:
        return None
    if now < newest - LITTLE_BACK:
        return (
            f"The clock says {_said(now)}, earlier than the last entry of {_said(newest)}. Set the clock right; what "
            "is marked until then counts on the date that the clock says."
        )
    if now > newest + LONG_AHEAD:
        days = (now - newest).days
        return f"The clock says {_said(now)}, {days} days after the last entry. If that is not so, set the clock right."
    return None


def _said(at: datetime) -> str:
    return f"{at:%Y-%m-%d %H:%M %Z}"


def feeding_day(now: datetime, zone: ZoneInfo, rounds: Sequence[time]) -> date:
    """The room's date that a feeding at `now` (aware) counts on: the date of the zone, but of a round's beginning.

    A round that began before midnight keeps its date for `INTO_THE_NIGHT` after it began, unless the next day's first
    round has begun meanwhile. Wall-clock times are compared, so a change of daylight saving moves nothing.
    """
    here = now.astimezone(zone).replace(tzinfo=None)
    yesterday = here.date() - timedelta(days=1)
    latest = max(rounds, default=time.min)
    under_way = here < datetime.combine(yesterday, latest) + INTO_THE_NIGHT
    return yesterday if under_way and here.time() < min(rounds, default=time.min) else here.date()
