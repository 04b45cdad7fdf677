"""Reading a room file: bytes, text, TOML, shape, sense, room; each step with the faults it can find."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator
from itertools import chain, islice
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

EMPTY: Final = Fault(
    1, "file", "found an empty file, allowed is a room in TOML; `rackround new` writes one to start from"
)
MOST_SYNTAX_FAULTS: Final = 20
"""After so many lines that are no TOML the rest is not looked at."""
MOST_FAULTS: Final = 500
"""Faults that are told at once; a file with more is no room file, and nobody reads on."""


def load_room(path: Path) -> Room:
    """The room that a file describes. Raises `RoomFileFaults` with every fault found, whatever is at `path`."""
    try:
        text = decoded(file_bytes(path))
    except TextFault as fault:
        raise RoomFileFaults(path, [fault.fault]) from fault
    return load_room_text(text, str(path))


def load_room_text(text: str, name: str) -> Room:
    """The room that a text describes; `name` stands for the file in faults. Raises `RoomFileFaults`."""
    path = Path(name)
    text, data, syntax = _parsed(text.replace("\r\n", "\n"), path)
    error: ValidationError | None = None
    spec: RoomSpec | None = None
    try:
        spec = RoomSpec.model_validate(data)
    except ValidationError as found:
        error = found
    findings = [] if syntax else list(islice(check_parts(parts_of(data, spec)), MOST_FAULTS))
    if spec is not None and not findings and not syntax:
        return build_room(spec)
    details = error.errors(include_url=False) if error is not None else []
    if syntax:  # what seems to be missing may have stood on a line that was left out
        details = [detail for detail in details if detail["type"] != "missing"]
    faults = chain(syntax, worded(details, findings, data, find_positions(text)))
    raise RoomFileFaults(path, _capped(faults))


def _capped(faults: Iterable[Fault]) -> Iterator[Fault]:
    """So many faults as anybody reads, and a word on there being more."""
    for number, fault in enumerate(faults):
        if number == MOST_FAULTS:
            yield Fault(None, "file", f"found more than {MOST_FAULTS} faults, allowed is none; the rest is left out")
            return
        yield fault


def _parsed(text: str, path: Path) -> tuple[str, dict[str, Any], list[Fault]]:
    """The text as far as it is TOML, what is in it, and the faults of the lines that had to be left out for that."""
    if not text.strip():
        raise RoomFileFaults(path, [EMPTY])
    faults: list[Fault] = []
    while True:
        try:
            return text, tomllib.loads(text), faults
        except (ValueError, RecursionError) as error:
            fault, rest = syntax_fault(text, error)
            faults.append(fault)
            if rest is None or len(faults) >= MOST_SYNTAX_FAULTS:
                raise RoomFileFaults(path, faults) from error
            text = rest
