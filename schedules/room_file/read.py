"""Reading a room file: bytes, text, TOML, shape, sense, room; each step with the faults it can find.

What it takes to tell a fault in full is loaded only where there is one (`diagnosis`): a sound file is the usual case,
and the first screen waits for it.
"""

from __future__ import annotations

from itertools import islice
from pathlib import Path
from typing import Final

from pydantic import ValidationError

from schedules.room import Room
from schedules.room_file.build import build_room
from schedules.room_file.checks import check_parts
from schedules.room_file.diagnosis.toml import parsed
from schedules.room_file.faults import Fault, RoomFileFaults
from schedules.room_file.parts import parts_of
from schedules.room_file.schema.room import RoomSpec
from schedules.room_file.text import TextFault, decoded, file_bytes

EMPTY: Final = Fault(
    1, "file", "found an empty file, allowed is a room in TOML; `rackround new` writes one to start from"
)
MOST_FINDINGS: Final = 501
"""One more than are ever listed, so that a file with a fault on each of its lines is done with at some time."""


def load_room(path: Path) -> Room:
    """The room that a file describes. Raises `RoomFileFaults` with every fault found, whatever is at `path`."""
    try:
        text = decoded(file_bytes(path))
    except TextFault as fault:
        raise RoomFileFaults(path, [fault.fault]) from fault
    return load_room_text(text, str(path))


def load_room_text(text: str, name: str) -> Room:
    """The room that a text describes; `name` stands for the file in faults. Raises `RoomFileFaults`."""
    path, text = Path(name), text.replace("\r\n", "\n")
    if not text.strip():
        raise RoomFileFaults(path, [EMPTY])
    try:
        data = parsed(text)
    except (ValueError, RecursionError) as error:
        from schedules.room_file.diagnosis.diagnosis import faults_of_no_toml

        raise RoomFileFaults(path, faults_of_no_toml(text, error)) from error
    error_of_shape: ValidationError | None = None
    spec: RoomSpec | None = None
    try:
        spec = RoomSpec.model_validate(data)
    except ValidationError as error:
        error_of_shape = error
    compared = error_of_shape is None or not _is_out_of_bounds(error_of_shape)
    findings = list(islice(check_parts(parts_of(data, spec)), MOST_FINDINGS)) if compared else []
    if spec is not None and not findings:
        return build_room(spec)
    from schedules.room_file.diagnosis.diagnosis import faults_of

    raise RoomFileFaults(path, faults_of(text, data, error_of_shape, findings))


def _is_out_of_bounds(error: ValidationError) -> bool:
    """Whether a file has more tables or faults than any room: then its tables are not compared with one another."""
    if error.error_count() >= MOST_FINDINGS:
        return True
    return any(fault["type"] == "too_long" for fault in error.errors(include_url=False, include_input=False))
