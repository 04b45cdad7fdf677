"""The room file: one TOML file that describes a room, read, checked and made into a `Room`.

`read` gets at the text, `schema` and `values` say which keys there are and what each may hold, `checks` compares keys
with one another, `build` fills in defaults and settles units. Only where something is wrong does `diagnosis` find the
lines (`positions`) and the sentences (`wording`, `syntax`, `within`). `odd` says what is legal
and odd in a sound room. `starter` writes the file that a new room begins with.
The file is read, never written.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from schedules.room_file.faults import Fault, RoomFileFaults

if TYPE_CHECKING:
    from schedules.room import Room

__all__ = ["Fault", "RoomFileFaults", "load_room", "load_room_text"]


def load_room(path: Path) -> Room:
    """The room that a file describes. Raises `RoomFileFaults` with everything that is wrong with it."""
    # Imported when first called: what checks a file takes longer to load than a small room takes to read.
    from schedules.room_file.read import load_room as read

    return read(path)


def load_room_text(text: str, name: str) -> Room:
    """The room that a text describes, called `name` in its faults. Raises `RoomFileFaults`."""
    from schedules.room_file.read import load_room_text as read

    return read(text, name)
