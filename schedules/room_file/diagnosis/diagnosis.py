"""From what went wrong to faults with lines and keys; needed only where something did go wrong."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from schedules.room_file.consistency import Finding
from schedules.room_file.diagnosis.positions import find_positions
from schedules.room_file.diagnosis.syntax import syntax_fault
from schedules.room_file.diagnosis.toml import parsed
from schedules.room_file.diagnosis.wording import worded
from schedules.room_file.faults import Fault
from schedules.room_file.schema.room import RoomSpec

MOST_SYNTAX_FAULTS: Final = 10
"""After so many lines that are no TOML the rest is not looked at."""
MOST_FAULTS: Final = 500
"""Faults that are listed at once. A file with more is no room file, and nobody reads on."""


def faults_of(
    text: str, data: Mapping[str, Any], error: ValidationError | None, findings: Iterable[Finding]
) -> Iterator[Fault]:
    """The faults of a document's shape and those between its keys."""
    yield from _capped(worded(_details(error), findings, data, find_positions(text)))


def faults_of_no_toml(text: str, error: Exception) -> Iterator[Fault]:
    """The faults of a text that the parser refuses with `error`, and of the document that it is without those lines.

    Of that only the shape is looked at: what seems to be missing or unknown may have stood on a line left out.
    """
    for _ in range(MOST_SYNTAX_FAULTS):
        fault, rest = syntax_fault(text, error)
        yield fault
        if rest is None:
            return
        text = rest
        try:
            data = parsed(text)
        except (ValueError, RecursionError) as next_error:
            error = next_error
        else:
            details = (detail for detail in _details(_shape_error(data)) if detail["type"] != "missing")
            yield from _capped(worded(details, (), data, find_positions(text)))
            return


def _shape_error(data: Mapping[str, Any]) -> ValidationError | None:
    try:
        RoomSpec.model_validate(data)
    except ValidationError as error:
        return error
    return None


def _details(error: ValidationError | None) -> list[ErrorDetails]:
    return error.errors(include_url=False) if error is not None else []


def _capped(faults: Iterable[Fault]) -> Iterator[Fault]:
    """So many faults as anybody reads, and a word on there being more."""
    for number, fault in enumerate(faults):
        if number == MOST_FAULTS:
            yield Fault(None, "file", f"found more than {MOST_FAULTS} faults, allowed is none; the rest is left out")
            return
        yield fault
