"""Acts that the ledger would not take: kept in order, tried again, never dropped unless somebody else made them."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from schedules.ledger import AlreadyMarked, Entry, Ledger, Served, Skipped, What

ActKind = Literal[
    "finish",
    "give",
    "skip",
    "let_go",
    "observe",
    "came",
    "note",
    "saw",
    "read",
    "add_water",
    "change_water",
    "add_salt",
    "deliver",
    "open_pack",
    "weigh",
    "pour",
    "acknowledge",
    "withdraw",
    "undo",
    "leave",
    "end_leave",
    "ticks",
]


@dataclass(frozen=True, slots=True)
class Act:
    """One act as it is written: its kind, what it writes, the day it is about, when and by whom it was done.

    `undone` are the entries that an undo or a withdrawal takes back.
    """

    kind: ActKind
    what: tuple[What, ...]
    day: date
    at: datetime
    by: str
    undone: tuple[Entry, ...] = ()


class Unsaved:
    """The acts that wait for the ledger, oldest first."""

    def __init__(self) -> None:
        self.acts: list[Act] = []

    def __len__(self) -> int:
        return len(self.acts)

    def keep(self, act: Act) -> None:
        """Keep an act until the ledger takes it."""
        self.acts.append(act)

    def take_back(self) -> Act | None:
        """Let go of the newest act; it was never written."""
        return self.acts.pop() if self.acts else None

    def drop(self, acts: Collection[Act]) -> None:
        """Let go of some acts; they were never written."""
        self.acts = [act for act in self.acts if act not in acts]

    def settles(self, day: date, tank: str, feed: str) -> bool:
        """Whether one of these acts gives or skips a feed in a tank on a day."""
        return any(
            isinstance(what, Served | Skipped) and (act.day, what.tank, what.feed) == (day, tank, feed)
            for act in self.acts
            for what in act.what
        )

    def write(self, ledger: Ledger) -> Sequence[Act]:
        """Write them in order; what somebody else marked meanwhile is left out and comes back. Raises `LedgerFault`."""
        beaten = []
        while self.acts:
            act = self.acts[0]
            try:
                ledger.append(act.what, day=act.day, at=act.at, by=act.by)
            except AlreadyMarked:
                beaten.append(act)
            self.acts.pop(0)
        return beaten
