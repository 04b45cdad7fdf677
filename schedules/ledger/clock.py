"""The clock as it can be trusted: what is odd about now beside what the ledger holds."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

LITTLE_BACK: Final = timedelta(seconds=60)
"""Clocks are put right by seconds all the time; an earlier time than the last entry's counts as odd from here on."""
LONG_AHEAD: Final = timedelta(days=366)
"""A ledger without an entry for longer than this is more likely read under a wrong clock."""


def clock_fault(newest: datetime | None, now: datetime) -> str | None:
    """What is odd about `now` beside the instant of the newest entry (both aware), None if nothing is.

    A clock that went back would count today's servings on a day that is over, so the keeper decides.
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
