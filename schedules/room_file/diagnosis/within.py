"""Faults within brackets and braces: a value that is none, a comma that is missing, a space that only looks so."""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import date
from typing import Final

from schedules.room_file.show import LONGEST, printable

_ODD_SPACE: Final = re.compile("[\u00a0\u1680\u2000-\u200b\u202f\u205f\u3000\ufeff]")
"""Characters that look like a space, or like nothing, and that TOML takes for letters."""
_TEXT_OR_ODD_SPACE: Final = re.compile(rf"\"(?:[^\"\\\n]|\\.)*\"|'[^'\n]*'|#.*|{_ODD_SPACE.pattern}")
_BEGINS: Final = re.compile(r"[=,\[{\n]")
_ENDS: Final = re.compile(r"[,\]}\n#]")
_WORD: Final = re.compile(r"\"[^\"\n]*\"?|'[^'\n]*'?|[\[{]|[^\s,\]}=]+")
_DATE: Final = re.compile(r"(\d{1,4})([./-])\s*(\d{1,2})\2\s*(\d{1,4})\.?")
_OPENS_OR_CLOSES: Final = "[]{}"


def without_odd_spaces(line: str) -> tuple[str, str] | None:
    """The first odd space of a line outside of texts, and the line with ordinary spaces; None where it has none."""
    odd = [found[0] for found in _TEXT_OR_ODD_SPACE.finditer(line) if _ODD_SPACE.fullmatch(found[0])]
    if not odd:
        return None
    mended = _TEXT_OR_ODD_SPACE.sub(lambda found: " " if _ODD_SPACE.fullmatch(found[0]) else found[0], line)
    return odd[0], mended


def piece_at(text: str, offset: int) -> str:
    """The value within brackets or braces in which the parser stopped."""
    begin = max((found.end() for found in _BEGINS.finditer(text, max(0, offset - LONGEST), offset)), default=offset)
    end = _ENDS.search(text, offset)
    return text[begin : end.start() if end else len(text)].strip()


def missing_comma(text: str, offset: int) -> tuple[int, str] | None:
    """Where a comma is missing before an offset, and what stands on both sides; None where none is missing."""
    before = text[:offset].rstrip()
    after = _WORD.match(text, offset)
    if not before or after is None or before[-1] in "=,[{":
        return None
    if len(before) == offset and before[-1] not in "\"']}" and after[0][0] not in "\"'[{":
        return None
    last = before[-1]
    if last not in _OPENS_OR_CLOSES:
        last = re.split(r"[=,\[{\n]", before[-LONGEST:])[-1].strip()
    return len(before) - 1, f"{printable(last)} {printable(after[0][:LONGEST])} without a comma between them"


def date_meant(text: str) -> str | None:
    """A date written the other way round, as year-month-day; None where it is no date, or could be either of two."""
    found = _DATE.fullmatch(text.strip())
    if found is None:
        return None
    first, sign, second, third = found.groups()
    if len(first) == 4:
        orders = {(first, second, third)}
    elif sign == ".":
        orders = {(third, second, first)}
    else:
        orders = {(third, first, second), (third, second, first)}
    dates = set[date]()
    for year, month, day in orders:
        with suppress(ValueError):
            dates.add(date(int(year) + (2000 if len(year) <= 2 else 0), int(month), int(day)))
    return f"{dates.pop()}" if len(dates) == 1 else None
