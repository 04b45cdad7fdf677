"""What is wrong with a room file, all of it at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from schedules.room.place import hidden

KeyPath = tuple[str | int, ...]
"""Keys and array indexes from the top of a document, as in ("racks", 0, "tanks", 2, "volume")."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: the line it is on (None where the file has no lines to speak of), the key, found and allowed."""

    line: int | None
    key: str
    message: str


class RoomFileFaults(Exception):
    """The room file cannot be used. `faults` are sorted by line; `str()` gives one line of text for each."""

    def __init__(self, path: Path, faults: Iterable[Fault]) -> None:
        self.path = path
        shown = (replace(fault, message=hidden(fault.message)) for fault in faults)
        self.faults = tuple(sorted(shown, key=lambda fault: (fault.line or 1, fault.key)))
        super().__init__(path, self.faults)

    def lines(self) -> tuple[str, ...]:
        """`FILE:LINE: dotted.key: what was found, what is allowed`, one text for each fault."""
        path = hidden(str(self.path))
        return tuple(f"{path}:{fault.line or 1}: {fault.key}: {fault.message}" for fault in self.faults)

    def __str__(self) -> str:
        return "\n".join(self.lines())
