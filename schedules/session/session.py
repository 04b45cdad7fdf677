"""Every act a keeper can do, with its checks and its result as a value. The command line and the screens call it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from schedules.chores import ChoreDue
from schedules.formatting import clean
from schedules.history import LOOK_BACK_DAYS
from schedules.ledger import (
    Came,
    Entry,
    Leftovers,
    Noted,
    Observed,
    Reason,
    Response,
    Sighting,
    Skipped,
    Undone,
)
from schedules.review.flags import Flag
from schedules.review.flags.acknowledged import acknowledgement_of
from schedules.review.missed import Missed
from schedules.round import Refusal, RoundServing, Stop, finish_stop, give
from schedules.session.acknowledgement import seen_by, setting_aside, waiting
from schedules.session.acts.chores import ChoreActs, left_out
from schedules.session.acts.leave import LeaveActs
from schedules.session.acts.stock import StockActs
from schedules.session.acts.water import WaterActs
from schedules.session.doubts.animals import doubt_about
from schedules.session.open_round import about, days_before
from schedules.session.outcome import Outcome
from schedules.session.recent import RecentAct, recent_acts
from schedules.session.unsaved import Act


class Session(LeaveActs, StockActs, WaterActs, ChoreActs):
    """An open round with the acts that can be done in it.

    Every act is on disk before its method returns, or kept in `unsaved`. Acts raise `LedgerFault` only where the
    ledger cannot be read.
    """

    def is_open(self, stop: Stop) -> bool:
        """Whether something is still due at a stop that no unsaved act settles."""
        return any(map(self.is_due, stop.servings)) or any(map(self.is_chore_due, stop.chores))

    def is_due(self, serving: RoundServing) -> bool:
        """Whether a serving is due and no unsaved act settles it."""
        due = serving.due
        return serving.state == "due" and not self.unsaved.settles(self.day, due.tank, due.feed)

    def finish(self, stop: Stop) -> Outcome:
        """Mark everything still due at a stop: chores done, feeds given, or skipped with the rule that holds them."""
        servings = tuple(each for each in stop.servings if self.is_due(each))
        chores = tuple(each for each in stop.chores if self.is_chore_due(each))
        drafts = finish_stop(replace(stop, servings=servings, chores=chores))
        if not drafts:
            return self._nothing("nothing_due", stop.tank)
        return self._write("finish", drafts)

    def give(
        self, tank: str, feed: str, amount: float | None = None, *, day: date | None = None, anyway: bool = False
    ) -> Outcome:
        """Record a serving as due, or in another amount of the feed's measures, today or on a past day.

        Where a rule forbids it, nothing is recorded and the refusal comes back; with `anyway` it is recorded
        as extra.
        """
        on = day or self.day
        history = self.reaching(days_before(on, LOOK_BACK_DAYS + 2))
        served = give(self.room, history, on, tank, feed, amount, anyway=anyway)
        if isinstance(served, Refusal):
            return replace(self._nothing("refused", tank), feeds=(feed,), refusal=served)
        return self._write("give", [served], on)

    def skip(self, tank: str | None, feeds: Sequence[str], because: str, chores: Sequence[ChoreDue] = ()) -> Outcome:
        """Record that feeds and chores due today at a stop are left out, and why; a stop without a tank has no feeds.

        Where a feed is not due, nothing is recorded.
        """
        due = {} if tank is None else {each.feed: each for each in self.history.due_in(tank, self.day)}
        others = tuple(feed for feed in feeds if feed not in due)
        if others or not (feeds or chores):
            return replace(self._nothing("not_due", tank), feeds=others)
        skipped = [Skipped(due[feed].tank, feed, due[feed].round, Reason.other(clean(because))) for feed in feeds]
        return self._write("skip", [*skipped, *left_out(chores, because)])

    def let_go(self, day: date, gaps: Sequence[Missed], because: str) -> Outcome:
        """Record that servings missed on a past day are let go, and why; this settles them."""
        drafts = [Skipped(gap.due.tank, gap.due.feed, gap.due.round, Reason.other(clean(because))) for gap in gaps]
        return self._write("let_go", drafts, day)

    def observe(self, tank: str, feed: str, leftovers: Leftovers) -> Outcome:
        """Record how much of a feed was found lying in a tank."""
        return self._write("observe", [Observed(tank, feed, leftovers)])

    def came(self, tank: str, feed: str, response: Response) -> Outcome:
        """Record how the animals of a tank came to a feed."""
        return self._write("came", [Came(tank, feed, response)])

    def note(self, tank: str | None, text: str) -> Outcome:
        """Record a note about a tank, or (None) about the room."""
        if not clean(text):
            return self._nothing("no_text", tank)
        return self._write("note", [Noted(tank, clean(text))])

    def saw(self, what: Sighting, *, day: date | None = None, anyway: bool = False) -> Outcome:
        """Record what was seen of a tank's animals or became of them, today or on a past day.

        Where something speaks against it, nothing is recorded and the doubt comes back; with `anyway` it is recorded.
        """
        on = day or self.day
        doubt = None if anyway else doubt_about(self.room_on(on), self.life, self.day, on, what)
        if doubt is not None:
            return replace(self._nothing("refused", what.tank), doubt=doubt)
        return self._write("saw", [what], on)

    def seen_by(self, flag: Flag) -> tuple[str, ...]:
        """Who has seen a flag and set it aside, the first one first; empty while it stands among the others."""
        return seen_by(flag, self.history, self.unsaved)

    def standing(self, found: Iterable[Flag]) -> tuple[Flag, ...]:
        """Those of some flags that no keeper has set aside."""
        return tuple(flag for flag in found if not self.seen_by(flag))

    def acknowledge(self, flag: Flag) -> Outcome:
        """Set a flag aside as seen, for every keeper, until there is more of it or it is worse."""
        if self.seen_by(flag):
            aside = setting_aside(flag, self.history, self.unsaved)
            return replace(self._nothing("already_marked", flag.tank), winner=aside[0] if aside else None)
        return self._write("acknowledge", [acknowledgement_of(flag)], flag.day)

    def withdraw(self, flag: Flag) -> Outcome:
        """Take back all that sets a flag aside, whoever wrote it, so that it stands among the others again."""
        aside = setting_aside(flag, self.history, self.unsaved)
        dropped = waiting(flag, self.unsaved)
        if not aside and not dropped:
            return self._nothing("nothing_to_undo", flag.tank)
        self.unsaved.drop(dropped)
        act = Act("withdraw", (acknowledgement_of(flag),), flag.day, self.clock(), self.by, aside)
        outcome = Outcome("dropped" if dropped else "recorded", self.by, act)
        for undone in dict.fromkeys(entry.act for entry in aside):
            entries = tuple(entry for entry in aside if entry.act == undone)
            outcome = self._write("withdraw", [Undone(undone)], flag.day, entries)
        return replace(outcome, tanks=outcome.tanks | {flag.tank}, undoable=False)

    def undo(self) -> Outcome:
        """Take back this keeper's newest act of today, an unsaved one first."""
        act = self.unsaved.take_back(self.by)
        if act is not None:
            return Outcome("dropped", self.by, act, about(act.what))
        last = self.ledger.last_act(self.by)
        if not last or self.day not in (last[0].day, self.room.day(last[0].at)):
            return self._nothing("nothing_to_undo", None)
        return replace(self._write("undo", [Undone(last[0].act)], last[0].day, last), undoable=False)

    def undo_as(self, by: str, count: int) -> Outcome:
        """Take back somebody's newest acts of today, so many of them; it ends at the first that cannot be."""
        outcome, tanks = self._nothing("nothing_to_undo", None), frozenset[str]()
        with self._acting_as(by):
            for _ in range(count):
                outcome = self.undo()
                tanks |= outcome.tanks
                if not outcome.done:
                    break
        return replace(outcome, tanks=tanks)

    def recent(self, rack: str | None = None) -> tuple[RecentAct, ...]:
        """What this keeper can take back today, newest first; with `rack` what was done at its tanks."""
        return recent_acts(self.room, self.history, self.by, self.day, rack)

    def take_back(self, acts: Sequence[RecentAct]) -> Outcome:
        """Take back some of this keeper's acts, each as an act of its own; it ends at the first that cannot be."""
        outcome = self._nothing("nothing_to_undo", None)
        undone: tuple[Entry, ...] = ()
        tanks: frozenset[str] = frozenset()
        for each in acts:
            outcome = self._write("undo", [Undone(each.number)], each.entries[0].day, each.entries)
            if outcome.act is None or outcome.result not in ("recorded", "kept"):
                break
            undone, tanks = undone + each.entries, tanks | outcome.tanks
            outcome = replace(outcome, act=replace(outcome.act, undone=undone))
        return replace(outcome, tanks=outcome.tanks | tanks, undoable=False)

    def save_again(self) -> Outcome | None:
        """Try to write what is unsaved; None where nothing is. Raises `LedgerFault` where it still cannot be."""
        if not self.unsaved:
            return None
        count = len(self.unsaved)
        beaten = self.unsaved.write(self.ledger, self.history.seq)
        return Outcome("saved", self.by, tanks=self.catch_up(), count=count, beaten=beaten)
