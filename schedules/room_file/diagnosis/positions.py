"""Where each key and value of a TOML text stands, which the standard library's parser does not tell.

A scanner of its own: it goes through a text that the parser has accepted, or up to where it stopped, and notes the
offset of every key and array element without making values of them. It is run only after something was found wrong.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Final

from schedules.room_file.faults import KeyPath
from schedules.room_file.text import MOST_KEY_PARTS

_BLANK: Final = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_SPACE: Final = re.compile(r"[ \t]*")
_KEY: Final = re.compile(r"[A-Za-z0-9_-]+|\"(?:[^\"\\\n]|\\.)*\"|'[^'\n]*'")
_STRING: Final = re.compile(
    r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*"{3,5}'
    r"|'''(?:[^']|'{1,2}(?!'))*'{3,5}"
    r'|"(?!"")(?:[^"\\\n]|\\.)*"'
    r"|'(?!'')[^'\n]*'",
    re.DOTALL,
)
_OTHER_VALUE: Final = re.compile(r"[^,\]}\n#]+")
_MOST_NESTED: Final = 32
"""Parts of the longest path that is noted; what is nested deeper counts as its own outermost table or array."""


class _Stop(Exception):
    """The text does not go on as TOML does."""


@dataclass(slots=True)
class Positions:
    """Offsets by path, and the text they are offsets in.

    `last` is the path of the last key or header that was read, `last_at` where it stands, which in a text that is no
    TOML may be a second place. `inside` is the path of the value within which the text stops, if it does: of a plain
    value, or of the innermost array or table that is not closed. `long_key_at` is where a key of too many parts stands.
    """

    text: str
    offsets: dict[KeyPath, int]
    last: KeyPath
    last_at: int
    inside: KeyPath | None
    long_key_at: int | None
    _line_starts: list[int] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        self._line_starts = [0, *(found.end() for found in re.finditer("\n", self.text))]

    def line(self, path: KeyPath) -> int:
        """The line a path stands on, else that of the nearest table around it; lines count from 1."""
        while path and path not in self.offsets:
            path = path[:-1]
        return self.line_at(self.offsets[path]) if path else 1

    def line_at(self, offset: int) -> int:
        """The line an offset is on."""
        return bisect_right(self._line_starts, offset)


def find_positions(text: str, stop: int | None = None) -> Positions:
    """The position of every key and array element of a TOML text, up to `stop` or where it is no TOML any more.

    Line ends in `text` are single newlines.
    """
    scanner = _Scanner(text if stop is None else text[:stop])
    with suppress(_Stop):
        scanner.document()
    return Positions(text, scanner.offsets, scanner.last, scanner.last_at, scanner.inside, scanner.long_key_at)


class _Scanner:
    """One pass over a text; `at` is how far it has come."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.offsets: dict[KeyPath, int] = {}
        self.last: KeyPath = ()
        self.last_at = 0
        self.inside: KeyPath | None = None
        self.long_key_at: int | None = None
        self.lengths: dict[KeyPath, int] = {}

    def document(self) -> None:
        table: KeyPath = ()
        while True:
            self.skip(_BLANK)
            if self.at >= len(self.text):
                return
            if self.text[self.at] == "[":
                table = self.header()
            else:
                self.value_of(self.key(table))

    def header(self) -> KeyPath:
        """A table's header; tables of an array of tables are counted as they come."""
        many = self.text.startswith("[[", self.at)
        self.at += 2 if many else 1
        parts = self.key_parts()
        self.expect("]]" if many else "]")
        path: KeyPath = ()
        for part, offset in parts[:-1]:
            path = self.note((*path, part), offset)
            if path in self.lengths:
                path = (*path, self.lengths[path] - 1)
        part, offset = parts[-1]
        path = (*path, part)
        if many:
            self.note(path, offset)
            self.lengths[path] = self.lengths.get(path, 0) + 1
            path = self.note((*path, self.lengths[path] - 1), offset)
        else:
            self.note(path, offset)
        self.last, self.last_at = path, offset
        return path

    def key(self, table: KeyPath) -> KeyPath:
        """A possibly dotted key and the sign after it."""
        path = table
        parts = self.key_parts()
        for part, offset in parts:
            path = self.note((*path, part), offset)
        self.expect("=")
        self.last, self.last_at = path, parts[0][1]
        self.skip(_SPACE)
        return path

    def key_parts(self) -> list[tuple[str, int]]:
        parts: list[tuple[str, int]] = []
        while True:
            if len(parts) > MOST_KEY_PARTS:
                self.long_key_at = parts[0][1]
                raise _Stop
            self.skip(_SPACE)
            found = _KEY.match(self.text, self.at)
            if not found:
                raise _Stop
            parts.append((_key_text(found.group()), self.at))
            self.at = found.end()
            self.skip(_SPACE)
            if not self.text.startswith(".", self.at):
                return parts
            self.at += 1

    def value_of(self, path: KeyPath) -> None:
        """The value of a key, with all that is nested in it; `open_` holds the arrays and tables not yet closed."""
        open_: list[tuple[KeyPath, int | None]] = []
        begun = self.last, self.last_at
        self.begin(path, open_)
        while open_:
            self.inside = open_[-1][0]
            self.skip(_BLANK)
            if self.at >= len(self.text):
                raise _Stop
            inside, count = open_[-1]
            if self.text[self.at] in "]}":
                open_.pop()
                self.at += 1
            elif self.text[self.at] == ",":
                self.at += 1
            elif count is None:
                self.begin(self.key(inside), open_)
            else:
                open_[-1] = (inside, count + 1)
                self.begin(self.note((*inside, count), self.at), open_)
        self.inside = None
        self.last, self.last_at = begun

    def begin(self, path: KeyPath, open_: list[tuple[KeyPath, int | None]]) -> None:
        """A whole plain value, or the opening of an array or a table."""
        self.inside = path
        sign = self.text[self.at : self.at + 1]
        if sign in ("[", "{"):
            open_.append((path, 0 if sign == "[" else None))
            self.at += 1
            return
        found = (_STRING if sign in ('"', "'") else _OTHER_VALUE).match(self.text, self.at)
        if not found:
            raise _Stop
        self.at = found.end()

    def note(self, path: KeyPath, offset: int) -> KeyPath:
        if len(path) > _MOST_NESTED:
            return path[:-1]
        self.offsets.setdefault(path, offset)
        return path

    def expect(self, sign: str) -> None:
        if not self.text.startswith(sign, self.at):
            raise _Stop
        self.at += len(sign)

    def skip(self, blank: re.Pattern[str]) -> None:
        found = blank.match(self.text, self.at)
        self.at = found.end() if found else self.at


def _key_text(raw: str) -> str:
    """A bare or quoted key as the parser reads it."""
    if raw[0] == "'":
        return raw[1:-1]
    if raw[0] == '"':
        try:
            return str(tomllib.loads(f"key = {raw}")["key"])
        except tomllib.TOMLDecodeError as error:
            raise _Stop from error
    return raw
