"""From text to a TOML document, with bounded work: the parser of the standard library takes long for endless keys."""

from __future__ import annotations

import tomllib
from typing import Any

from schedules.room_file.text import MOST_KEY_PARTS


class LongKey(ValueError):
    """A key of more parts than any room has; `offset` is where it stands in the text."""

    def __init__(self, offset: int) -> None:
        super().__init__(f"a key of more than {MOST_KEY_PARTS} parts")
        self.offset = offset


def parsed(text: str) -> dict[str, Any]:
    """A TOML document. Raises `LongKey`, and `ValueError` or `RecursionError` as the parser does.

    Line ends in `text` are single newlines.
    """
    if any(line.count(".") >= MOST_KEY_PARTS for line in text.split("\n")):
        _refuse_long_key(text)
    return tomllib.loads(text)


def _refuse_long_key(text: str) -> None:
    from schedules.room_file.diagnosis.positions import find_positions

    at = find_positions(text).long_key_at
    if at is not None:
        raise LongKey(at)
