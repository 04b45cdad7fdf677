"""The main list of a JSON document as a table: CSV as RFC 4180 has it, safe to open in a spreadsheet."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator, Mapping, Sequence
from io import StringIO
from typing import Any, Final

Row = dict[str, str | int | float]

WITHIN: Final[Mapping[str, tuple[str, ...]]] = {
    "round": ("stops", "servings"),
    "lives": ("tanks", "animals"),
    "prepare": ("prepare",),
}
"""By command: where the rows are that are not simply the document's first list. What stands beside a list on the way
there (the tank of a serving) is a column too."""
FORMULA: Final = ("=", "+", "-", "@", "\t", "\r", "\n")
"""A text that begins with one of these is run as a formula by spreadsheets (OWASP, CSV injection)."""


def csv_text(command: str, document: Mapping[str, Any]) -> str:
    """The table with a head line, lines ended by CRLF; empty where the list is.

    A column for each key; those of an object within are joined by points, lists are put into one cell.
    """
    path = WITHIN.get(command) or _first_list(document)
    rows = [_flat(row) for row in _rows(document, path)]
    columns = list(dict.fromkeys(name for row in rows for name in row))
    out = StringIO(newline="")
    if rows:
        writer = csv.DictWriter(out, columns, restval="", lineterminator="\r\n")
        writer.writeheader()
        writer.writerows(rows)
    return out.getvalue()


def _first_list(document: Mapping[str, Any]) -> tuple[str, ...]:
    """The first list of objects in a document; where all lists are empty, the first."""
    lists = [key for key, value in document.items() if isinstance(value, list)]
    filled = [key for key in lists if document[key] and isinstance(document[key][0], dict)]
    return tuple((filled or lists)[:1])


def _rows(document: Mapping[str, Any], path: Sequence[str]) -> Iterator[dict[str, Any]]:
    """The objects of the list at a path, each with what stands beside the lists on the way to it."""
    if not path:
        return
    first, *further = path
    for item in document.get(first, ()):
        if not further:
            yield item
            continue
        beside = {key: value for key, value in item.items() if not isinstance(value, list | dict)}
        yield from ({**beside, **row} for row in _rows(item, further))


def _flat(value: Mapping[str, Any], before: str = "") -> Row:
    row: Row = {}
    for key, each in value.items():
        if isinstance(each, dict):
            row |= _flat(each, f"{before}{key}.")
        else:
            row[before + key] = _cell(each)
    return row


def _cell(value: Any) -> str | int | float:
    """A value as a cell: numbers as they are, true and false as words, nothing for null."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return value
    if isinstance(value, list):
        plain = not any(isinstance(each, list | dict) for each in value)
        return _safe("; ".join(map(str, value)) if plain else json.dumps(value, ensure_ascii=False))
    return _safe(str(value))


def _safe(text: str) -> str:
    return f"'{text}" if text.startswith(FORMULA) else text
