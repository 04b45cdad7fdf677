"""A room of two racks and a quarantine tank, chores for it, and pasts in which they were done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, Final

from schedules.history import History, history_of
from schedules.ledger import Undone, What
from schedules.ledger.stores.memory import MemoryLedger
from schedules.room import Keeper, Rack, Room
from schedules.room.chores import Chore, ChorePlace
from schedules.round.marks import chore_mark
from tests.amounts.rooms import make_feed, make_room, make_tank

MONDAY: Final = date(2026, 11, 2)
FEEDS: Final = (make_feed("dust", "powder"),)
TANKS: Final = ("a1", "a2", "a3", "b1", "b2", "q1")
AT: Final[Mapping[str, ChorePlace]] = {tank: ChorePlace(tank=tank) for tank in TANKS}
EVERYWHERE: Final = tuple(AT.values())
WHOLE_ROOM: Final = ChorePlace()


def day(number: int) -> date:
    """So many days after the first Monday of the calendar used here."""
    return MONDAY + timedelta(days=number)


def chore(id_: str = "wipe", *places: ChorePlace, **changes: Any) -> Chore:
    """A chore of one minute at some places, else at every tank, from that Monday on."""
    values: dict[str, Any] = {"order": "stop", "minutes": 1.0, "begins": MONDAY}
    return Chore(id_, id_, places or EVERYWHERE, "morning", **(values | changes))


def room_with(*chores: Chore, keepers: tuple[Keeper, ...] = ()) -> Room:
    """The room with these chores."""
    room = make_room(FEEDS, *(make_tank(tank, FEEDS, quarantine=tank == "q1") for tank in TANKS))
    racks = (Rack("left", "Left", TANKS[:3]), Rack("right", "Right", TANKS[3:]))
    tanks = {tank: replace(room.tanks[tank], rack="left" if tank in TANKS[:3] else "right") for tank in TANKS}
    return replace(room, racks=racks, tanks=tanks, chores=chores, keepers=keepers)


class Marks:
    """A ledger in which chores are marked by day."""

    def __init__(self) -> None:
        self.ledger = MemoryLedger()

    def write(self, what: What, on: date) -> int:
        """Write one act; its number."""
        at = datetime.combine(on, time(8), UTC)
        return self.ledger.append([what], day=on, at=at, by="Ana")[0].act

    def did(self, done: Chore, place: ChorePlace, on: date) -> int:
        """Write that a chore was done."""
        return self.write(chore_mark(done, place), on)

    def undo(self, act: int, on: date) -> None:
        """Take an act back."""
        self.write(Undone(act), on)

    def history(self, today: date) -> History:
        """What holds."""
        return history_of(self.ledger, today)
