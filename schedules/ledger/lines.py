"""An entry as one line of JSON, in exactly one way, and the chain that runs through the lines.

The chain of an entry is a digest of the chain before it and of its own line, so an entry that was changed, moved or
taken out breaks every chain after it. It does not depend on how a store keeps the entries. A line is kept as it was
written: one of an earlier schema version stays so, and is only read as the present one.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from hashlib import blake2b
from typing import Any, Final, NamedTuple

from schedules.ledger.compact import compact, instant
from schedules.ledger.declaration import Content, EntryKind, check_keys, kind_named, kind_of
from schedules.ledger.entry import Entry, What
from schedules.ledger.fields import Malformed

CHAIN_BYTES: Final = 16
FIRST_CHAIN: Final = bytes(CHAIN_BYTES)
"""What stands in for the chain before the first entry."""
HEAD: Final = ("seq", "act", "day", "at", "by", "kind")
"""The keys with which every line begins; then `v` where the schema version is above 1, the content, and `chain`."""
_MOST: Final = 2**63


class Draft(NamedTuple):
    """What is to be written in one entry, with its content in the schema version in which it is to be kept."""

    what: What
    version: int
    content: Content

    @property
    def kind(self) -> EntryKind[Any]:
        """The kind of the entry."""
        return kind_of(self.what)


def draft_of(what: What) -> Draft:
    """What an entry says, in the newest schema version."""
    kind = kind_of(what)
    return Draft(what, kind.version, kind.content(what))


@dataclass(frozen=True, slots=True)
class Record:
    """An entry as it was written: the fields of an `Entry`, and the content in its own schema version."""

    seq: int
    act: int
    day: date
    at: datetime
    by: str | None
    kind: str
    version: int
    content: Content

    @property
    def line(self) -> str:
        """The one line that says all of the entry, without its chain."""
        values = (self.seq, self.act, self.day.isoformat(), instant(self.at), self.by, self.kind)
        version = {} if self.version == 1 else {"v": self.version}
        return compact(dict(zip(HEAD, values, strict=True)) | version | self.content)

    @property
    def draft(self) -> Draft:
        """What was written, to be written again; `Malformed` or another ValueError where that says nothing."""
        what = kind_named(self.kind, self.version).read(self.content, self.version)
        return Draft(what, self.version, self.content)

    @property
    def entry(self) -> Entry:
        """The entry; `Malformed`, another ValueError, TypeError, KeyError or IndexError where it says nothing."""
        return Entry(self.seq, self.act, self.day, self.at, self.by, self.draft.what)


def record_of(entry: Entry, draft: Draft | None = None) -> Record:
    """The record of an entry; `draft` where it is known already, else the newest schema version."""
    kept = draft or draft_of(entry.what)
    return Record(entry.seq, entry.act, entry.day, entry.at, entry.by, kept.kind.name, kept.version, kept.content)


def line_of(entry: Entry) -> str:
    """The line of an entry in the newest schema version."""
    return record_of(entry).line


def next_chain(before: bytes, line: str) -> bytes:
    """The chain of the entry with this line, `before` being the chain of the entry before it."""
    return blake2b(line.encode(), key=before, digest_size=CHAIN_BYTES).digest()


def record_from(values: dict[str, Any]) -> Record:
    """The record in the JSON values of a line; `Malformed` names the key that is wrong, missing or unknown."""
    head: Content = {key: values[key] for key in HEAD if key in values}
    check_keys(head, HEAD)
    version = values.get("v", 1)
    kind = kind_named(values["kind"], version)
    content = {key: value for key, value in values.items() if key not in (*HEAD, "v", "chain")}
    if kind.codec is None:
        keys = kind.keys(version)
        check_keys(content, keys, ", ".join((*HEAD, *keys, "chain")))
    by = values["by"]
    if by is not None and type(by) is not str:
        raise Malformed("by", by, "a text or null")
    day, at = _day(values["day"]), _instant(values["at"])
    return Record(_number("seq", values), _number("act", values), day, at, by, kind.name, version, content)


def _number(key: str, values: dict[str, Any]) -> int:
    number = values[key]
    if type(number) is not int or not 0 < number < _MOST:
        raise Malformed(key, number, "a whole number of 1 or more")
    return number


def _day(text: Any) -> date:
    try:
        return date.fromisoformat(text)
    except (ValueError, TypeError):
        raise Malformed("day", text, "a day as 2026-11-25") from None


def _instant(text: Any) -> datetime:
    allowed = "a time as 2026-11-25T07:03:12.000000Z"
    try:
        at = datetime.fromisoformat(text)
    except (ValueError, TypeError):
        raise Malformed("at", text, allowed) from None
    if at.tzinfo is None:
        raise Malformed("at", text, allowed)
    try:
        return at.astimezone(UTC)
    except OverflowError:
        raise Malformed("at", text, allowed) from None
