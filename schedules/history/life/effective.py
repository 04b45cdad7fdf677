"""The room as it is lived in: the file's room with the animals as they were seen, and those that are expected."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from datetime import date

from schedules.history.life.hatching import hatch_window
from schedules.history.life.values import Brood, Life
from schedules.room import Presence, Room, Tank
from schedules.room.heads import BROOD


def room_as_of(room: Room, life: Life, today: date) -> Room:
    """The room with the animals of the fold in its tanks; tanks of which nothing was seen stay as the file has them.

    Young that are expected from `today` on are there from the first to the last day of their window, marked so.
    """
    tanks, broods = dict(room.tanks), defaultdict[str, list[Brood]](list)
    for brood in life.broods:
        broods[brood.tank].append(brood)
    for tank, animals in life.animals.items():
        if tank in tanks:
            coming = (_young(tanks[tank], brood, today) for brood in broods[tank])
            tanks[tank] = replace(
                tanks[tank],
                animals=(*animals, *(young for young in coming if young)),
                arrived=life.arrived.get(tank),
            )
    return room if tanks == room.tanks else replace(room, tanks=tanks)


def _young(tank: Tank, brood: Brood, today: date) -> Presence | None:
    window = hatch_window(brood, tank.water.temperature)
    if window is None or window.last < today:
        return None
    return Presence(
        "shrimplet", BROOD * brood.heads, first=window.first, last=window.last, hatched=window.first, expected=True
    )
