"""Days off: a day on which none of the room's keepers walks the round.

A keeper's days off are weekdays, single dates, and RFC 5545 recurrence rules counted from a day.
"""

from __future__ import annotations

from datetime import date

from schedules.room.model import Keeper, Room
from schedules.room.recurrence import rule_days


def is_day_off(room: Room, day: date) -> bool:
    """Whether every keeper of the room is off on a day. A room that names no keeper has no days off."""
    return bool(room.keepers) and all(is_off(keeper, day) for keeper in room.keepers)


def is_off(keeper: Keeper, day: date) -> bool:
    """Whether one keeper is off on a day."""
    if day.weekday() in keeper.off_weekdays or day in keeper.off_dates:
        return True
    start = keeper.off_from
    return start is not None and any(day in rule_days(rule, start, day.year) for rule in keeper.off_rules)
