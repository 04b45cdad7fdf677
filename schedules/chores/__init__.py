"""Chores: which are due at which place, since when, and on which day of its window each is done.

In: a room, a history, a day. Out: `ChoreDue` values; nothing is written. Read `due.py` first: it asks `windows.py` for
the days on which a turn may be done, `spreading.py` for the one day of them, `conditions.py` for what happened.
"""

from schedules.chores.due import coming, due_at, late_chores, next_turn, turns_due
from schedules.chores.types import ChoreDue, ChoreState, Turn

__all__ = [
    "ChoreDue",
    "ChoreState",
    "Turn",
    "coming",
    "due_at",
    "late_chores",
    "next_turn",
    "turns_due",
]
