"""The invented rooms that the screens are measured with, and one of 1,000 tanks made of the farm four times over."""

from __future__ import annotations

import tomllib
from datetime import date
from typing import Any, Final

import tomli_w

from demo_racks import room_path
from demo_racks.fresh import fresh_text

ROOMS: Final = {48: "breeding_room", 240: "farm"}
MANY: Final = 1000


def room_text(tanks: int, today: date) -> str:
    """The room file of so many tanks, 48, 240 or 1,000, with its dates moved to `today`."""
    if tanks in ROOMS:
        return fresh_text(room_path(ROOMS[tanks]).read_text("utf-8"), today)
    room = tomllib.loads(room_text(240, today))
    halls = range(1, MANY // 240 + 2)
    room["racks"] = [_in_hall(rack, hall) for hall in halls for rack in room["racks"]]
    for rack in reversed(room["racks"]):
        surplus = sum(len(each["tanks"]) for each in room["racks"]) - MANY
        del rack["tanks"][max(0, len(rack["tanks"]) - surplus) :]
    room["racks"] = [rack for rack in room["racks"] if rack["tanks"]]
    return tomli_w.dumps(room)


def _in_hall(rack: dict[str, Any], hall: int) -> dict[str, Any]:
    """A rack with its tanks, under ids of their own."""
    tanks = [{**tank, "id": f"{hall}{tank['id']}", "name": f"{tank['name']}, hall {hall}"} for tank in rack["tanks"]]
    return {**rack, "id": f"hall-{hall}-{rack['id']}", "name": f"Hall {hall}, {rack['name']}", "tanks": tanks}
