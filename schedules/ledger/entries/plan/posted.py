"""A plan written down, in a form of its own: it is large and repeats itself."""

from __future__ import annotations

import json
import zlib
from dataclasses import replace
from typing import Any

from schedules.ledger.compact import compact
from schedules.ledger.declaration import Content, Earlier, EntryKind, check_keys, declare
from schedules.ledger.entries.plan.packed import KEYS, MOST_DAYS, pack, unpack
from schedules.ledger.entries.plan.posting import PostedServing, Posting
from schedules.ledger.fields import Malformed, forms_of


class PostedCodec:
    """A posting as `packed` values; in a store its first day by itself, then all of it.

    The first day is all that is ever asked of a posting once there is one for the day after.
    """

    def write(self, what: Posting) -> Content:
        """The packed posting."""
        return pack(what)

    def read(self, content: Content) -> Posting:
        """The posting; `Malformed`, ValueError, TypeError, KeyError or IndexError where there is none."""
        check_keys({"orders": {}, **content}, (*KEYS, "orders"))
        return unpack(content)

    def shrink(self, content: Content) -> bytes:
        """The packed values, compressed."""
        return b"".join(zlib.compress(compact(part).encode()) for part in (_first_day(content), content))

    def grow(self, body: bytes, *, first_day_only: bool = False) -> Content:
        """The packed values again; ValueError, TypeError or zlib.error where there are none."""
        first = zlib.decompressobj()
        data = first.decompress(body)
        if not first.eof:
            raise ValueError("a posted plan is cut short")
        content: Content = json.loads(data if first_day_only else zlib.decompress(first.unused_data))
        return content

    def check(self, body: bytes) -> None:
        """ValueError where the first day by itself and the first of all days differ."""
        if _with_part(self.grow(body, first_day_only=True)) != _first_day(self.grow(body)):
            raise ValueError("a posted plan and its first day differ")

    def settled(self, what: Posting) -> Posting:
        """The same with numbers as floats; `Malformed` names the serving that cannot be written."""
        if len(what.days) > MOST_DAYS:
            raise Malformed("days", len(what.days), f"at most {MOST_DAYS} days")
        known = {serving: _settled(serving) for serving in {each for day in what.days for each in day}}
        return replace(what, days=tuple(tuple(map(known.__getitem__, day)) for day in what.days))

    def description(self) -> tuple[str, ...]:
        """The keys and what they hold."""
        return (
            "`start` (the first day), `days` (how many)",
            "`tanks`, `feeds`, `doses` (each `[round, amount, unit, amount_mg, method]`): every value once",
            "`tank`, `feed`, `dose`: for each serving its place in those; `part`: what it takes of the table's ration",
            "`on`: for each serving a number in hexadecimal whose bit n is set where it is due on day n",
            "`orders` (where needed): by a day's number, the order of its servings where it is not that of the lists",
        )


def _settled(serving: PostedServing) -> PostedServing:
    try:
        values: dict[str, Any] = {form.name: form.settled(getattr(serving, form.name)) for form in _FORMS}
    except Malformed as wrong:
        raise ValueError(f"{wrong} ({serving.feed!a} for {serving.tank!a})") from None
    return PostedServing(**values)


def _first_day(content: Content) -> Content:
    """The packed values of a posting's first day alone, in the newest schema version."""
    return pack(unpack(_with_part(content), 0, 1))


def _with_part(content: Content) -> Content:
    return {"part" if key == "share" else key: value for key, value in content.items()}


_FORMS = forms_of(PostedServing)
CODEC = PostedCodec()
POSTED = declare(
    EntryKind(
        name="posted",
        made=Posting,
        meaning="a plan: what is due on each of the coming days",
        words=lambda _what, _day, _names: "plan posted",
        start=lambda what: what.start,
        continues=lambda what, before: what.continues(before),
        alone=True,
        undoable=False,
        earlier=(Earlier(tuple("share" if key == "part" else key for key in KEYS), _with_part),),
        codec=CODEC,
    )
)
