"""Reading a room file: bytes, text, TOML, shape, sense, room; each step with the faults it can find."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any, Final

from pydantic import ValidationError

from schedules.room import Room
from schedules.room_file.build import build_room
from schedules.room_file.checks import check_parts
from schedules.room_file.faults import Fault, RoomFileFaults
from schedules.room_file.parts import parts_of
from schedules.room_file.positions import find_positions
from schedules.room_file.schema import RoomSpec
from schedules.room_file.syntax import syntax_fault
from schedules.room_file.text import TextFault, decoded, file_bytes
from schedules.room_file.wording import worded


def load_room(path: Path) -> Room:
    """The room that a file describes. Raises `RoomFileFaults` with every fault found, whatever is at `path`."""
    try:
        text = decoded(file_bytes(path))
    except TextFault as fault:
        raise RoomFileFaults(path, [fault.fault]) from fault
    return load_room_text(text, str(path))


def load_room_text(text: str, name: str) -> Room:
    """The room that a text describes; `name` stands for the file in faults. Raises `RoomFileFaults`."""
    text = text.replace("\r\n", "\n")
    data = _parsed(text, Path(name))
    error: ValidationError | None = None
    spec: RoomSpec | None = None
    try:
        spec = RoomSpec.model_validate(data)
    except ValidationError as found:
        error = found
    findings = list(check_parts(parts_of(data, spec)))
    if spec is not None and not findings:
        return build_room(spec)
    raise RoomFileFaults(Path(name), worded(error, findings, data, find_positions(text)))


def _parsed(text: str, path: Path) -> dict[str, Any]:
    if not text.strip():
        raise RoomFileFaults(path, [EMPTY])
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise RoomFileFaults(path, [syntax_fault(text, error)]) from error


EMPTY: Final = Fault(
    1, "file", "found an empty file, allowed is a room in TOML; `rackround new` writes one to start from"
)
