"""An entry as one line of JSON, in exactly one way, and the chain that runs through the lines.

The chain of an entry is a digest of the chain before it and of its own line, so an entry that was changed, moved or
taken out breaks every chain after it. It does not depend on how a store keeps the entries.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import fields
from datetime import UTC, date, datetime
from hashlib import blake2b
from typing import Any, Final, get_args

from schedules.ledger.entries import (
    Acknowledged,
    Entry,
    Leftovers,
    Noted,
    Observed,
    Posting,
    Served,
    Skipped,
    Undone,
    What,
)
from schedules.ledger.packed import pack, unpack
from schedules.room.kinds import Severity

CHAIN_BYTES: Final = 16
FIRST_CHAIN: Final = bytes(CHAIN_BYTES)
"""What stands in for the chain before the first entry."""
KINDS_OF_ENTRY: Final[dict[type, str]] = {
    Posting: "posted",
    Served: "served",
    Skipped: "skipped",
    Observed: "observed",
    Noted: "noted",
    Acknowledged: "acknowledged",
    Undone: "undone",
}
_BY_KIND: Final = {kind: made for made, kind in KINDS_OF_ENTRY.items()}
_TYPES: Final[dict[str, tuple[type, ...]]] = {
    "tank": (str,),
    "feed": (str,),
    "round": (str,),
    "unit": (str,),
    "because": (str,),
    "text": (str,),
    "leftovers": (str,),
    "flag": (str,),
    "severity": (str,),
    "extent": (float, int),
    "amount": (float, int),
    "amount_mg": (float, int),
    "share": (float, int),
    "planned": (bool,),
    "broke": (str, type(None)),
    "act": (int,),
}
_KEYS: Final = {"part": "share"}
"""Fields that have another name in a line."""


def compact(value: Any) -> str:
    """JSON without spaces in ASCII alone, so that no text in it can end a line or steer a terminal.

    Numbers that are not finite are refused with ValueError.
    """
    return json.dumps(value, allow_nan=False, separators=(",", ":"))


def instant(at: datetime) -> str:
    """An instant in UTC to the microsecond, as `2026-11-25T07:03:12.000000Z`."""
    return at.astimezone(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")


def content_of(what: What) -> dict[str, Any]:
    """The JSON values of what an entry holds, beside who, when and about which day."""
    if isinstance(what, Posting):
        return pack(what)
    if isinstance(what, Undone):
        return {"undoes": what.act}
    return {_KEYS.get(field.name, field.name): getattr(what, field.name) for field in fields(what)}


def line_of(entry: Entry, content: dict[str, Any] | None = None) -> str:
    """The one line that says all of an entry, without its chain; `content` where `content_of` it is known already."""
    head = {"seq": entry.seq, "act": entry.act, "day": entry.day.isoformat(), "at": instant(entry.at), "by": entry.by}
    return compact(head | {"kind": KINDS_OF_ENTRY[type(entry.what)]} | (content or content_of(entry.what)))


def next_chain(before: bytes, line: str) -> bytes:
    """The chain of the entry with this line, `before` being the chain of the entry before it."""
    return blake2b(line.encode(), key=before, digest_size=CHAIN_BYTES).digest()


def _field(name: str, value: Any) -> Any:
    """A field's value, refused with ValueError unless it has the type its name calls for."""
    allowed = _TYPES[name]
    if not isinstance(value, allowed) or (isinstance(value, bool) and bool not in allowed):
        raise ValueError(f"{name} is {value!r}")
    return float(value) if isinstance(value, int) and float in allowed else value


def _undone(content: dict[str, Any]) -> Undone:
    return Undone(_field("act", content["undoes"]))


def _noted(content: dict[str, Any]) -> Noted:
    tank = content["tank"]
    return Noted(tank if tank is None else _field("tank", tank), _field("text", content["text"]))


def _acknowledged(content: dict[str, Any]) -> Acknowledged:
    feed = content["feed"]
    return Acknowledged(
        _field("tank", content["tank"]),
        feed if feed is None else _field("feed", feed),
        *(_field(name, content[name]) for name in ("flag", "severity", "extent")),
    )


def _plain(made: type) -> Callable[[dict[str, Any]], Any]:
    names = [_KEYS.get(field.name, field.name) for field in fields(made)]
    return lambda content: made(*(_field(name, content[name]) for name in names))


_READERS: Final[dict[str, Callable[[dict[str, Any]], What]]] = {
    "posted": unpack,
    "undone": _undone,
    "noted": _noted,
    "acknowledged": _acknowledged,
    **{kind: _plain(_BY_KIND[kind]) for kind in ("served", "skipped", "observed")},
}


def what_of(kind: str, content: dict[str, Any]) -> What:
    """What an entry holds, from its JSON values; ValueError, TypeError, KeyError or IndexError where they are none."""
    what = _READERS[kind](content)
    if isinstance(what, Observed) and what.leftovers not in get_args(Leftovers):
        raise ValueError(f"leftovers is {what.leftovers!r}, not none, some or most")
    if isinstance(what, Acknowledged) and what.severity not in get_args(Severity):
        raise ValueError(f"severity is {what.severity!r}, not high, middle or low")
    return what


def entry_of(values: dict[str, Any]) -> Entry:
    """An entry from the JSON values of its line; ValueError, TypeError, KeyError or IndexError if they are none."""
    seq, act, by = _field("act", values["seq"]), _field("act", values["act"]), values["by"]
    at = datetime.fromisoformat(values["at"])
    if at.tzinfo is None:
        raise ValueError("the time says no zone")
    by = by if by is None else _field("tank", by)
    what = what_of(values["kind"], values)
    return Entry(seq, act, date.fromisoformat(values["day"]), at.astimezone(UTC), by, what)
