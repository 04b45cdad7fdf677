"""The room file: one TOML file that describes a room, read, checked and made into a `Room`.

`read` gets at the text, `schema` and `values` say which keys there are and what each may hold, `checks` compares keys
with one another, `build` fills in defaults and settles units. Only where something is wrong does `diagnosis` find the
lines (`positions`) and the sentences (`wording`, `syntax`). `starter` writes the file that a new room begins with.
The file is read, never written.
"""

from schedules.room_file.faults import Fault, RoomFileFaults
from schedules.room_file.read import load_room, load_room_text

__all__ = ["Fault", "RoomFileFaults", "load_room", "load_room_text"]
