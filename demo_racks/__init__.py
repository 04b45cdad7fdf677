"""Three invented rooms to look at and to try things on: a first rack, a breeding room, a farm."""

from __future__ import annotations

from pathlib import Path
from typing import Final

ROOMS: Final = ("first_rack", "breeding_room", "farm")
"""The rooms by name, from 6 tanks over 48 to 240. The dates in each are as of the day in its first line."""


def room_path(name: str) -> Path:
    """The room file of an invented room. Raises `KeyError` for a name that is not in `ROOMS`."""
    if name not in ROOMS:
        raise KeyError(name)
    return Path(__file__).with_name(f"{name}.toml")
