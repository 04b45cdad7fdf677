"""Text that is no TOML: the parser's complaint with its line, in the keeper's words."""

from __future__ import annotations

import re

from schedules.room_file.faults import Fault

_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")


def syntax_fault(text: str, error: Exception) -> Fault:
    """The fault that a text which could not be parsed has."""
    complaint = str(error)
    place = _PLACE.search(complaint)
    line = int(place.group(1)) if place and place.group(1) else text.rstrip("\n").count("\n") + 1
    what = complaint[: place.start()] if place else complaint
    return Fault(line, "syntax", what)
