"""What `chores` prints, and the chores of a round's stop."""

from __future__ import annotations

from typing import Literal

from schedules.chores import ChoreState
from schedules.room.chores import Condition
from tui.cli.formats.base import Amount, Count, Day, Part


class Chore(Part):
    """A chore at a place on a day."""

    chore: str
    name: str
    tank: str | None
    """null for a chore of a rack or of the room"""
    rack: str | None
    """null for a chore of a tank or of the room"""
    minutes: Amount
    state: ChoreState
    since: Day | None
    """the first day of this turn; null where no turn was due"""
    last: Day | None
    """the last day on which this turn is not late; null where no turn was due"""
    days_late: Count
    next: Day | None
    """the day of the turn after it, once it is marked or as if it were done on the day"""
    by: str | None
    """who marked it"""
    text: str
    """the same in English"""


class Rule(Part):
    """What a chore is due by: one of `rule`, `every` and `when`."""

    id: str
    name: str
    rule: str | None
    """a recurrence rule of RFC 5545"""
    every: Count | None
    """so many days after it was last done"""
    when: Condition | None
    days: Count | None
    """so many days after animals came in"""
    begins: Day | None
    """the first day of the chore; null with `when`"""
    within: Count
    """for how many days a turn may be done"""
    minutes: Amount
    places: Count


class Chores(Part):
    """`rackround chores --json`: what is due or was marked on a day."""

    format: Literal["rackround-chores/1"]
    date: Day
    minutes: Amount
    """of what is still to do"""
    rules: list[Rule]
    chores: list[Chore]
