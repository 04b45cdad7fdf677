"""Stops of chores alone: before and after the tanks of a rack or of the room, those of the quarantine last."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from schedules.chores import ChoreDue, due_at
from schedules.history import History
from schedules.room import Room
from schedules.room.chores import ChorePlace, Order
from schedules.round.types import Stop


def walk_of(room: Room) -> tuple[Stop, ...]:
    """Every stop that a round can have, empty, in walking order: the quarantine tanks and their own chores last."""
    if not any(chore.order != "stop" for chore in room.chores):
        return tuple(Stop(tank, ()) for tank in room.walk)
    return tuple(stop for quarantine in (False, True) for stop in _part(room, quarantine))


def chores_of(room: Room, history: History, today: date, day: date, round_id: str, where: Stop) -> tuple[ChoreDue, ...]:
    """What is due and done at a stop without a tank."""
    found = due_at(room, history, today, day, ChorePlace(rack=where.rack), round_id)
    return tuple(
        each for each in found if each.chore.order == where.order and each.chore.quarantine == where.quarantine
    )


def _part(room: Room, quarantine: bool) -> Iterator[Stop]:
    yield _stop(None, "before", quarantine)
    for rack in room.racks:
        tanks = [tank for tank in rack.tanks if room.tanks[tank].quarantine == quarantine]
        yield _stop(rack.id, "before", quarantine)
        yield from (Stop(tank, ()) for tank in tanks)
        yield _stop(rack.id, "after", quarantine)
    yield _stop(None, "after", quarantine)


def _stop(rack: str | None, order: Order, quarantine: bool) -> Stop:
    return Stop(None, (), rack=rack, order=order, quarantine=quarantine)
