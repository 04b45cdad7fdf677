"""What makes a chore due that has no calendar: the last day on which it happened in a tank."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from itertools import pairwise
from typing import Final

from schedules.history import History
from schedules.ledger.entries import Observed
from schedules.room import Room
from schedules.room.chores import Chore, Condition
from schedules.room.water.quantities import Quantity
from schedules.water.watch import rack_findings
from schedules.water.watch.findings import FindingKind

DRIFTED: Final[frozenset[FindingKind]] = frozenset(("step", "drift", "rack_step", "rack_drift"))
DISSOLVED: Final[frozenset[Quantity]] = frozenset(("tds", "conductivity"))


def happened(room: Room, history: History, chore: Chore, tank: str, upto: date) -> date | None:
    """The last day up to `upto` from which a chore with a condition is due in a tank; None where nothing happened."""
    assert chore.condition is not None
    return _CONDITIONS[chore.condition](room, history, chore, tank, upto)


def _leftovers_twice(room: Room, history: History, chore: Chore, tank: str, upto: date) -> date | None:  # noqa: ARG001
    """The day of the second of two looks in a row, at any feed, that found leftovers; within the history."""
    looks = [
        (entry.day, entry.what.leftovers != "none")
        for day in history.days()
        if day <= upto
        for entry in history.about(tank, day)
        if isinstance(entry.what, Observed)
    ]
    return max((second[0] for first, second in pairwise(looks) if first[1] and second[1]), default=None)


def _tds_drift(room: Room, history: History, chore: Chore, tank: str, upto: date) -> date | None:  # noqa: ARG001
    """The day of the last reading that showed a step or a drift of what is dissolved, in the tank or its rack."""
    found = rack_findings(room, history, room.tanks[tank].rack, upto)
    days = (
        each.day
        for each in found
        if each.kind in DRIFTED and each.quantity in DISSOLVED and tank in (each.tank, *each.tanks)
    )
    return max(days, default=None)


def _after_move_in(room: Room, history: History, chore: Chore, tank: str, upto: date) -> date | None:  # noqa: ARG001
    arrived = room.tanks[tank].arrived
    day = None if arrived is None else arrived + timedelta(days=chore.days)
    return day if day is not None and day <= upto else None


_CONDITIONS: Final[Mapping[Condition, Callable[[Room, History, Chore, str, date], date | None]]] = {
    "leftovers_twice": _leftovers_twice,
    "tds_drift": _tds_drift,
    "after_move_in": _after_move_in,
}
