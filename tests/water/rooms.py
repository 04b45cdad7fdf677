"""A room and a past of readings, put together by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from demo_racks import room_path
from schedules.history import History, history_of
from schedules.ledger import What
from schedules.ledger.stores.memory import MemoryLedger
from schedules.room import Room, Tank, Units, Water
from schedules.room_file import load_room

TODAY = date(2026, 11, 25)
MORNING = datetime(2026, 11, 25, 6, 30, tzinfo=UTC)
METRIC, UNREAD = Units(), Water()


def first_rack(water: Water = UNREAD, units: Units = METRIC) -> tuple[Room, Tank]:
    """The room of the first rack with the water of its first tank, and that tank."""
    room = load_room(room_path("first_rack"))
    tank = replace(room.tanks[room.walk[0]], water=water)
    return replace(room, tanks={**room.tanks, tank.id: tank}, units=units), tank


def past_of(*acts: tuple[int, What]) -> History:
    """The history of acts, each so many days before today."""
    ledger = MemoryLedger()
    for days, what in acts:
        ledger.append([what], day=TODAY - timedelta(days=days), at=MORNING, by="Ana")
    return history_of(ledger, TODAY)
