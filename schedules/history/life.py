"""Who lives where: the room file's animals, and what the ledger says of them since.

Everything that asks who lives in a tank asks a room `with_life`. So far no kind of entry says anything of animals, so
the answer is the file's. A kind that does is folded in `animals_of`, and no caller changes.
"""

from __future__ import annotations

from dataclasses import replace

from schedules.history.history import History
from schedules.room import Presence, Room


def animals_of(room: Room, history: History, tank: str) -> tuple[Presence, ...]:  # noqa: ARG001 (for kinds to come)
    """The animals of a tank, each with the days on which they are there: past, present and expected."""
    return room.tanks[tank].animals


def with_life(room: Room, history: History) -> Room:
    """The room of the file with the animals that live there by the ledger; the same room where that is no news."""
    found = {tank: animals_of(room, history, tank) for tank in room.tanks}
    moved = {tank: animals for tank, animals in found.items() if animals != room.tanks[tank].animals}
    if not moved:
        return room
    tanks = {name: replace(tank, animals=moved.get(name, tank.animals)) for name, tank in room.tanks.items()}
    return replace(room, tanks=tanks)
