"""Acts that the ledger would not take: kept in order, tried again, never dropped unless somebody else made them."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Literal, Protocol

from schedules.ledger import AlreadyMarked, ChoreMark, Entry, Ledger, LedgerFault, Served, Skipped, What
from schedules.ledger.admission import mark_of

ActKind = Literal[
    "finish",
    "give",
    "skip",
    "let_go",
    "observe",
    "came",
    "note",
    "saw",
    "did",
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

    `undone` are the entries that an undo or a withdrawal takes back. `since` is the newest entry that was known before
    the act was first tried; None where it was never tried.
    """

    kind: ActKind
    what: tuple[What, ...]
    day: date
    at: datetime
    by: str
    undone: tuple[Entry, ...] = ()
    since: int | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Beaten:
    """What of an act others had done already, and the entries that hold; `whole` where nothing of it was left."""

    act: Act
    winners: tuple[Entry, ...]
    whole: bool


class Keeps(Protocol):
    """Where acts are kept so that they outlast the program."""

    acts: tuple[Act, ...]
    """What was left there by programs that ended, oldest first."""

    def keep(self, acts: Sequence[Act]) -> bool:
        """Keep these acts and no others; whether that could be done."""
        ...

    def close(self) -> None:
        """Leave what is kept to the next program."""
        ...


class Unsaved:
    """The acts that wait for the ledger, oldest first; with `keeps`, also those of programs that ended."""

    def __init__(self, keeps: Keeps | None = None) -> None:
        self._keeps = keeps
        self.acts: list[Act] = [] if keeps is None else list(keeps.acts)
        self.outlast = bool(self.acts)
        """Whether the acts outlast this program."""

    def __len__(self) -> int:
        return len(self.acts)

    def _become(self, acts: Sequence[Act]) -> None:
        self.acts = list(acts)
        self.outlast = self._keeps is not None and self._keeps.keep(self.acts)

    def close(self) -> None:
        """Leave what waits to the next program, where it outlasts this one."""
        if self._keeps is not None:
            self._keeps.close()

    def keep(self, act: Act) -> None:
        """Keep an act until the ledger takes it."""
        self._become([*self.acts, act])

    def take_back(self, by: str) -> Act | None:
        """Let go of a keeper's newest act; it was never written."""
        mine = [act for act in self.acts if act.by == by]
        if mine:
            self.drop(mine[-1:])
        return mine[-1] if mine else None

    def drop(self, acts: Collection[Act]) -> None:
        """Let go of some acts; they were never written."""
        self._become([act for act in self.acts if act not in acts])

    def settles(self, day: date, tank: str, feed: str) -> bool:
        """Whether one of these acts gives or skips a feed in a tank on a day."""
        return any(
            isinstance(what, Served | Skipped) and (act.day, what.tank, what.feed) == (day, tank, feed)
            for act in self.acts
            for what in act.what
        )

    def settles_chore(self, day: date, mark: ChoreMark) -> bool:
        """Whether one of these acts marks the same chore at the same place on a day."""
        return any(
            isinstance(what, ChoreMark) and (act.day, what.tank, what.subject) == (day, mark.tank, mark.subject)
            for act in self.acts
            for what in act.what
        )

    def write(self, ledger: Ledger, newest: int) -> tuple[Beaten, ...]:
        """Write them in order; what of them somebody else marked meanwhile is left out and comes back.

        `newest` is the newest entry that is known. Raises `LedgerFault` where the ledger still takes none.
        """
        beaten = []
        while self.acts:
            act, lost, winners = self.acts[0], list[What](), list[Entry]()
            while self.acts[0].what:
                try:
                    newest = self._write_first(ledger, newest)
                    break
                except AlreadyMarked as marked:
                    others = _others(self.acts[0], marked.winner)
                    lost += [what for what in self.acts[0].what if what not in others]
                    winners.append(marked.winner)
                    self._become([replace(self.acts[0], what=others), *self.acts[1:]])
            if lost:
                beaten.append(Beaten(replace(act, what=tuple(lost)), tuple(winners), not self.acts[0].what))
            self._become(self.acts[1:])
        return tuple(beaten)

    def _write_first(self, ledger: Ledger, newest: int) -> int:
        """Write the first act; the newest entry then."""
        act = self.acts[0]
        try:
            made = ledger.append(act.what, day=act.day, at=act.at, by=act.by, since=act.since)
        except LedgerFault:
            if act.since is None:
                self._become([replace(act, since=newest), *self.acts[1:]])
            raise
        return made[-1].seq


def _others(act: Act, winner: Entry) -> tuple[What, ...]:
    """What of an act an entry is not in the way of; nothing where that cannot be said."""
    met = mark_of(winner.day, winner.what)
    if met is None:
        return ()
    others = tuple(what for what in act.what if mark_of(act.day, what) != met)
    return others if len(others) < len(act.what) else ()
