"""Reading a ledger's entries straight from the pages of its file, whatever the tree above them looks like.

An entry never changes once written, so every copy of it on any page is the same entry, and pages can be read in any
order. Source of the layout: the SQLite project's "Database File Format", sections 1.3, 1.6, 2.1 and 4.1
(https://www.sqlite.org/fileformat2.html).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Final

from schedules.ledger.stores.rows import COLUMN_COUNT, Row
from schedules.ledger.stores.sqlite import earlier

PAGE_BYTES: Final = 4096
"""Every ledger is made with pages of this size."""
_LEAF: Final = 0x0D
_LOG_HEAD, _FRAME_HEAD = 32, 24
_INTEGER_BYTES: Final = (0, 1, 2, 3, 4, 6, 8)
_MOST_BYTES: Final = 1 << 26


class Pages:
    """The pages of a ledger file by number, those in its write-ahead log over them."""

    def __init__(self, data: bytes, log: bytes = b"") -> None:
        self._data = data
        self._over: dict[int, bytes] = {}
        frame = _FRAME_HEAD + PAGE_BYTES
        for at in range(_LOG_HEAD, len(log) - frame + 1, frame):
            number = int.from_bytes(log[at : at + 4], "big")
            self._over[number] = log[at + _FRAME_HEAD : at + frame]

    def __iter__(self) -> Iterator[int]:
        of_file = len(self._data) // PAGE_BYTES
        yield from range(1, of_file + 1)
        yield from (number for number in self._over if number > of_file)

    def __getitem__(self, number: int) -> bytes:
        """A page; KeyError where there is none of that number."""
        page = self._over.get(number) or self._data[(number - 1) * PAGE_BYTES : number * PAGE_BYTES]
        if number < 1 or len(page) < PAGE_BYTES:
            raise KeyError(number)
        return page


def rows_in(pages: Pages) -> Iterator[Row]:
    """Every row of a table of entries on any leaf page, as a row of today; what cannot be read is passed over."""
    for number in pages:
        page = pages[number]
        head = 100 if number == 1 else 0
        if page[head] != _LEAF:
            continue
        count = min(int.from_bytes(page[head + 3 : head + 5], "big"), PAGE_BYTES // 4)
        for cell in range(head + 8, head + 8 + 2 * count, 2):
            row = _row(pages, page, int.from_bytes(page[cell : cell + 2], "big"))
            if row is not None:
                yield row


def _row(pages: Pages, page: bytes, at: int) -> Row | None:
    try:
        size, at = _varint(page, at)
        seq, at = _varint(page, at)
        if size > _MOST_BYTES or not 0 < seq < 1 << 63:
            return None
        values = _record(_payload(pages, page, at, size))
    except (IndexError, KeyError, ValueError):
        return None
    if len(values) == earlier.COLUMN_COUNT:
        return earlier.row_as_now((seq, *values[1:]))
    return (seq, *values[1:]) if len(values) == COLUMN_COUNT else None


def _varint(data: bytes, at: int) -> tuple[int, int]:
    value = 0
    for number in range(8):
        byte = data[at + number]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + number + 1
    return value << 8 | data[at + 8], at + 9


def _payload(pages: Pages, page: bytes, at: int, size: int) -> bytes:
    """A cell's content, with what flowed over onto other pages."""
    most, least = PAGE_BYTES - 35, (PAGE_BYTES - 12) * 32 // 255 - 23
    if size <= most:
        return _exactly(page[at : at + size], size)
    rest = least + (size - least) % (PAGE_BYTES - 4)
    here = rest if rest <= most else least
    parts, left = [page[at : at + here]], size - here
    following = int.from_bytes(page[at + here : at + here + 4], "big")
    while left > 0:
        page = pages[following]
        following = int.from_bytes(page[:4], "big")
        parts.append(page[4 : 4 + left])
        left -= len(parts[-1])
    return b"".join(parts)


def _exactly(data: bytes, size: int) -> bytes:
    if len(data) != size:
        raise ValueError("a cell reaches beyond its page")
    return data


def _record(payload: bytes) -> list[Any]:
    """The values of a record."""
    end, at = _varint(payload, 0)
    kinds = []
    while at < end:
        kind, at = _varint(payload, at)
        kinds.append(kind)
    at, values = end, []
    for kind in kinds:
        size, read = _column(kind)
        values.append(read(_exactly(payload[at : at + size], size)))
        at += size
    return values


def _column(kind: int) -> tuple[int, Callable[[bytes], Any]]:
    """How many bytes a value of a serial type takes, and what they say."""
    if kind >= 12:
        return (kind - 12) // 2, bytes.decode if kind % 2 else bytes
    if kind in (0, 8, 9):
        return 0, lambda _: None if kind == 0 else kind - 8
    if kind < 7:
        return _INTEGER_BYTES[kind], lambda data: int.from_bytes(data, "big", signed=True)
    raise ValueError("no ledger holds such a value")
