"""A leave plan: what a helper gives on each of some days away, in place of what was posted for them."""

from __future__ import annotations

import json
import zlib
from dataclasses import dataclass, replace

from schedules.ledger.compact import compact
from schedules.ledger.declaration import Content, EntryKind, check_keys, declare
from schedules.ledger.entries.plan.packed import KEYS
from schedules.ledger.entries.plan.posted import CODEC
from schedules.ledger.entries.plan.posting import Posting
from schedules.ledger.entry import What
from schedules.ledger.fields import Malformed, check_text


@dataclass(frozen=True, slots=True)
class Away(What):
    """A leave plan that a keeper accepted. The entry's day is the plan's first day.

    Of leave plans that cover a day the newest holds. A day on which nothing is due is a day without a visit.
    """

    helper: str
    plan: Posting


class AwayCodec:
    """The helper's name, and the plan as `packed` values."""

    def write(self, what: Away) -> Content:
        """The content of a leave plan."""
        return {"helper": what.helper, **CODEC.write(what.plan)}

    def read(self, content: Content) -> Away:
        """The leave plan; `Malformed`, ValueError, TypeError, KeyError or IndexError where there is none."""
        check_keys({"orders": {}, **content}, ("helper", *KEYS, "orders"))
        plan = {key: value for key, value in content.items() if key != "helper"}
        return Away(_helper(content["helper"]), CODEC.read(plan))

    def shrink(self, content: Content) -> bytes:
        """The content, compressed."""
        return zlib.compress(compact(content).encode())

    def grow(self, body: bytes) -> Content:
        """The content again; ValueError, TypeError or zlib.error where there is none."""
        content: Content = json.loads(zlib.decompress(body))
        return content

    def check(self, body: bytes) -> None:
        """Nothing is kept twice, so that no two parts can differ."""

    def settled(self, what: Away) -> Away:
        """The same with numbers as floats; `Malformed` where it cannot be written."""
        return replace(what, helper=_helper(what.helper), plan=CODEC.settled(what.plan))

    def description(self) -> tuple[str, ...]:
        """The keys and what they hold."""
        return ("`helper` (who feeds on these days)", *CODEC.description())


def _helper(name: object) -> str:
    if not isinstance(name, str) or not name:
        raise Malformed("helper", name, "a text of at least one character")
    check_text("helper", name)
    return name


AWAY = declare(
    EntryKind(
        name="away",
        made=Away,
        meaning="a leave plan: what a helper gives on each of some days, instead of what was posted for them",
        words=lambda what, day, names: f"leave plan for {what.helper} from {names.day(day)}",
        alone=True,
        undoable=False,
        codec=AwayCodec(),
    )
)
