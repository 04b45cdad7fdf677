"""How far ahead is planned and posted, and what that says of a posting. Common practice, no source."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Final

from schedules.history import History
from schedules.ledger.entries import Posting

HORIZON_DAYS: Final = 28
"""Four weeks: the longest usual gap of a clock (10 days) lies in it more than twice."""
ENOUGH_DAYS: Final = 14
"""A posting that reaches this far ahead is carried on; a shorter rest says too little of a month."""


def goes_on(posting: Posting | None, today: date) -> bool:
    """Whether the plan of the coming days can carry on what was posted, instead of being made from nothing."""
    return posting is not None and posting.covers(today) and posting.covers(today + timedelta(days=ENOUGH_DAYS - 1))


def is_posted(history: History, today: date) -> bool:
    """Whether today's plan was already posted: each morning has a posting of its own."""
    posting = history.posting(today)
    return posting is not None and posting.start == today
