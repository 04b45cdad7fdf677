"""How values and words of a room file are shown in a fault: on one line, cut where long, nothing invisible."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, time
from itertools import islice
from typing import Any, Final

LONGEST: Final = 60
_MOST_DIGITS: Final = 20
_MOST_COMPARED: Final = 1000
"""Known words a misspelt one is compared with; there are about 600 time zones, and no room has so many feeds."""


def quoted(text: str) -> str:
    """A text in quotes; what cannot be printed is written as a code."""
    return f'"{printable(text if len(text) <= LONGEST else f"{text[:LONGEST]}…")}"'


def printable(text: str) -> str:
    """A text on one line, with codes in place of what does not show."""
    return text if text.isprintable() else "".join(_visible(letter) for letter in text)


def found_text(value: Any) -> str:
    """A value as it would stand in a TOML file."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return quoted(value)
        case int() if abs(value) >= 10**_MOST_DIGITS:
            return f"a whole number of more than {_MOST_DIGITS} digits"
        case date() | time():
            return value.isoformat()
        case dict():
            return "a table"
        case list():
            return "an array" if value else "an empty array"
        case _:
            return str(value)


def listed(words: Iterable[str], most: int = 12) -> str:
    """Words in quotes, separated by commas; a long list is cut and its length given."""
    all_ = list(words)
    shown = ", ".join(quoted(word) for word in all_[:most])
    return shown if len(all_) <= most else f"{shown} … ({len(all_)} in all)"


def meant(word: str, known: Iterable[str]) -> str:
    """`; did you mean "…"?` with the known word that is most like a given one, or nothing where none is."""
    from difflib import get_close_matches

    by_folded = {name.casefold(): name for name in islice(known, _MOST_COMPARED)}
    close = get_close_matches(word[:LONGEST].casefold(), by_folded, n=1, cutoff=0.6)
    return f"; did you mean {quoted(by_folded[close[0]])}?" if close else ""


def _visible(letter: str) -> str:
    if letter.isprintable():
        return letter
    return f"\\u{ord(letter):04X}" if ord(letter) <= 0xFFFF else f"\\U{ord(letter):08X}"
