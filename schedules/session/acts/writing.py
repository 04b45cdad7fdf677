"""Writing one act: into the ledger, or kept where the ledger would not take it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from schedules.ledger import AlreadyMarked, Entry, Ledger, LedgerFault, What
from schedules.ledger.admission import admitted
from schedules.room import Room
from schedules.session.kept_acts import KeptActs
from schedules.session.open_round import Clock, OpenRound, Posts, about, tanks_of
from schedules.session.outcome import Outcome, Result
from schedules.session.unsaved import Act, ActKind, Unsaved


class Writing(OpenRound):
    """An open round in which acts can be written."""

    def __init__(
        self,
        room: Room,
        ledger: Ledger,
        clock: Clock,
        by: str,
        *,
        posts: Posts = "days",
        keep_in: Path | None = None,
    ) -> None:
        """As `OpenRound`; in the folder `keep_in` what the ledger would not take outlasts the program."""
        self.unsaved = Unsaved()
        super().__init__(room, ledger, clock, by, posts=posts)
        if keep_in is not None:
            self.unsaved = Unsaved(KeptActs(keep_in, ledger.identity()))

    def _nothing(self, result: Result, tank: str | None) -> Outcome:
        return Outcome(result, self.by, tanks=frozenset() if tank is None else frozenset((tank,)))

    def _write(
        self, kind: ActKind, what: Sequence[What], day: date | None = None, undone: tuple[Entry, ...] = ()
    ) -> Outcome:
        act = Act(kind, tuple(what), day or self.day, self.clock(), self.by, undone)
        try:
            admitted(act.what, act.day, act.at, act.by)
        except LedgerFault as fault:
            return Outcome("cannot_be_written", self.by, act, fault=str(fault))
        if self.unsaved:
            # Behind those that wait already, without asking the ledger again: nobody stands waiting for it at a tank.
            return self._kept(act, "")
        try:
            self.ledger.append(act.what, day=act.day, at=act.at, by=act.by)
        except AlreadyMarked as marked:
            self.catch_up()
            return Outcome(
                "already_marked", self.by, act, tanks_of([marked.winner], self.history), winner=marked.winner
            )
        except LedgerFault as fault:
            return self._kept(replace(act, since=self.history.seq), str(fault))
        return Outcome("recorded", self.by, act, self.catch_up(), undoable=True)

    def _kept(self, act: Act, fault: str) -> Outcome:
        self.unsaved.keep(act)
        tanks = about(act.what) | about(entry.what for entry in act.undone)
        return Outcome("kept", self.by, act, tanks, undoable=True, fault=fault)
