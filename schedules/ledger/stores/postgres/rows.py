r"""A row as the server keeps it, and as every store has it (`stores/rows.py`).

The server keeps no character NUL in a text. Names are kept with it written as `\0`, and a backslash as two.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from schedules.ledger.stores.rows import Row

COLUMNS: Final = "seq, act, day, at, keeper, kind, version, tank, feed, mark, undoes, start, body, packed"
"""What a row is read from; `attempt` and `chain` are the store's own."""
ALL: Final = "seq, act, day, at, keeper, kind, version, tank, feed, mark, attempt, undoes, start, body, packed, chain"
"""Every column, in the order of `kept_row`."""
_BODY: Final = 12
_NAMES: Final = (4, 7, 8, 9)
_ESCAPED: Final = re.compile(r"\\([\\0])")


def kept(text: str | None) -> str | None:
    """A name as the server keeps it."""
    return text if text is None else text.replace("\\", "\\\\").replace("\0", "\\0")


def plain(text: str | None) -> str | None:
    """A name as it was."""
    if text is None or "\\" not in text:
        return text
    return _ESCAPED.sub(lambda found: "\0" if found[1] == "0" else "\\", text)


def kept_row(row: Row) -> Row:
    """A row of every column (`stores.rows.row_of`) as the server keeps it."""
    *head, body, chain = row
    for number in _NAMES:
        head[number] = kept(head[number])
    return (*head, *((body, None) if isinstance(body, str) else (None, body)), chain)


def plain_row(found: Row) -> Row:
    """A row of `stores.rows.COLUMNS` and whatever follows, from one of `COLUMNS` and the same."""
    row = list(found)
    for number in _NAMES:
        name = row[number]
        if name is not None and "\\" in name:
            row[number] = plain(name)
    packed = row.pop(_BODY + 1)
    if packed is not None:
        row[_BODY] = packed
    return tuple(row)


def plain_rows(found: Iterable[Row]) -> list[Row]:
    """Rows as every store has them."""
    return [plain_row(each) for each in found]
