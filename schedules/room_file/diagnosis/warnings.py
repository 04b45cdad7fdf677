"""What is odd in a sound room file, as lines with file, line and key."""

from __future__ import annotations

from datetime import date
from itertools import islice
from pathlib import Path
from typing import Final

from schedules.room import Room
from schedules.room_file.diagnosis.positions import find_positions
from schedules.room_file.diagnosis.toml import parsed
from schedules.room_file.diagnosis.wording import dotted
from schedules.room_file.odd import oddities
from schedules.room_file.text import TextFault, decoded, file_bytes

MOST_WARNINGS: Final = 100


def warnings_of(path: Path, room: Room, today: date) -> list[str]:
    """`FILE:LINE: dotted.key: what is odd`, in the order of the file, at most a hundred."""
    found = list(islice(oddities(room, today), MOST_WARNINGS))
    try:
        text = decoded(file_bytes(path)).replace("\r\n", "\n")
        data = parsed(text)
    except (TextFault, ValueError, RecursionError):
        return []  # the file was changed since it was read as a room, and is no room any more
    positions = find_positions(text)
    placed = sorted((positions.line(where), dotted(where, data), said) for where, said in found)
    return [f"{path}:{line}: {key}: {said}" for line, key, said in placed]
