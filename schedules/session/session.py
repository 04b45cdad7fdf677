"""The keeper's session: one open round, what holds now, and the acts that can be done. Knows nothing of screens."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Final

from schedules.formatting import clean, clock_text, date_text
from schedules.history import History
from schedules.history.history import refresh
from schedules.ledger import (
    AlreadyMarked,
    Entry,
    Ledger,
    LedgerFault,
    Leftovers,
    Noted,
    Observed,
    Posting,
    Skipped,
    Undone,
    What,
)
from schedules.ledger.admission import admitted
from schedules.planning.horizon import goes_on
from schedules.planning.opening import open_day
from schedules.review.flags import Flag, flags
from schedules.review.flags.acknowledged import acknowledgement_of
from schedules.review.flags.types import RANK
from schedules.review.missed import Missed, Turns, missed
from schedules.room import Feed, Room
from schedules.round import Refusal, RoundServing, RoundSheet, Stop, current_round, finish_stop, give, round_sheet
from schedules.round.doses import Doses, mix_round
from schedules.round.sheet import stop_of
from schedules.session.acknowledgement import seen_by, setting_aside, waiting
from schedules.session.unsaved import Mark, Unsaved
from schedules.wording.entries import flag_name, marked_text
from tui.widgets.cells import short

Clock = Callable[[], datetime]
NAME: Final = 30
"""Cells of a feed's name in the line that tells what an act came to, so that its reason stays in view."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What an act came to: whether it is on disk, what to tell in one line, the tanks it touched, how to take it back.

    `kept` tells that the ledger would not take it: it waits and is tried again.
    """

    done: bool
    text: str
    tanks: frozenset[str] = frozenset()
    kept: bool = False
    undoable: bool = True


@dataclass(frozen=True, slots=True)
class _Postings:
    """The turns of the postings in force from a day on: good as long as the history has the very same postings."""

    history_has: tuple[Posting, ...]
    since: date
    turns: Turns


class Session:
    """A room, its ledger and the round being walked.

    Every act is on disk before its method returns, or kept in `unsaved` and told so. `day` is the date of the round
    being walked: it stays when midnight passes, until the keeper opens the new day.
    """

    def __init__(self, room: Room, ledger: Ledger, clock: Clock, by: str, *, at_once: bool = False) -> None:
        """With `at_once` a day that was not opened yet is opened with today alone."""
        self.room = room
        self.ledger = ledger
        self.clock = clock
        self.by = by
        self.unsaved = Unsaved()
        self._postings: _Postings | None = None
        self._at_once = at_once
        self.open()

    def open(self, round_id: str | None = None) -> None:
        """Open the round to walk now (or the one named) of the present day, posting the day's plan if need be."""
        now = self.clock()
        # Read first: where the ledger fails, the round that was open stays open.
        history = open_day(self.room, self.ledger, now, at_once=self._at_once)
        self.day: date = self.room.day(now)
        self.round: str = round_id or current_round(self.room, now)
        self.history: History = history
        self.sheet: RoundSheet = round_sheet(self.room, self.history, self.day, self.day, self.round)
        self.doses: Doses = mix_round(self.room, self.history, self.day, self.round)
        self.news: tuple[Entry, ...] = ()
        self._flags: dict[str, tuple[Flag, ...]] = {}

    def take_room(self, room: Room) -> None:
        """Go on with an edited room; what is posted stays posted. Where the ledger fails, the old room stays."""
        before, self.room = self.room, room
        try:
            self.open(self.round if self.round in {walk.id for walk in room.rounds} else None)
        except LedgerFault:
            self.room = before
            raise

    @property
    def new_day(self) -> bool:
        """Whether the room's date has gone past the round being walked."""
        return self.room.day(self.clock()) != self.day

    @property
    def knows_coming_days(self) -> bool:
        """Whether the coming days are planned, and not today alone."""
        return goes_on(self.history.posting(self.day), self.day)

    @property
    def other_rounds(self) -> tuple[str, ...]:
        """The day's other rounds."""
        return tuple(walk.id for walk in self.room.rounds if walk.id != self.round)

    def flags(self) -> tuple[Flag, ...]:
        """All flags as of now, worst first; worked out anew only for tanks where something changed."""
        found = [flag for tank in self.room.walk for flag in self.flags_of(tank)]
        return tuple(sorted(found, key=lambda flag: (RANK[flag.severity], -flag.day.toordinal())))

    def know_flags(self, room: Room, history: History, found: Mapping[str, tuple[Flag, ...]]) -> None:
        """Take over flags worked out elsewhere from an earlier history, but for tanks that were written of since."""
        if room is not self.room or (history.first, history.last) != (self.history.first, self.history.last):
            return
        try:
            new = () if history is self.history else self.ledger.after(history.seq)
        except LedgerFault:
            return  # then they are worked out when asked for, and the fault is told where it is in the way
        touched = _tanks(new, history)
        self._flags = {tank: each for tank, each in found.items() if tank not in touched} | self._flags

    @property
    def flags_to_find(self) -> tuple[str, ...]:
        """The tanks whose flags are not worked out as things stand now."""
        return tuple(tank for tank in self.room.walk if tank not in self._flags)

    def flags_of(self, tank: str) -> tuple[Flag, ...]:
        """One tank's flags, worked out when first asked for after a change there."""
        if tank not in self._flags:
            self._flags[tank] = flags(self.room.only(tank), self.history, self.clock())
        return self._flags[tank]

    def missed(self, since: date) -> tuple[Missed, ...]:
        """What was missed from a day on, by consequence."""
        if not self.knows_postings(since):
            self.know_postings(self.history, since, self.ledger.postings(since, self.day))
        assert self._postings is not None
        return missed(self.room, self.history, self._postings.turns, self.day, since)

    def knows_postings(self, since: date) -> bool:
        """Whether the whole postings in force from a day on are at hand."""
        known = self._postings
        return known is not None and known.since == since and known.history_has is self.history.postings

    def know_postings(self, history: History, since: date, whole: tuple[Posting, ...]) -> None:
        """Take over the whole postings in force from a day on, read elsewhere for a history."""
        self._postings = _Postings(history.postings, since, Turns(whole))

    def is_open(self, stop: Stop) -> bool:
        """Whether something is still due at a stop that no unsaved mark settles."""
        return any(self.is_due(serving) for serving in stop.servings)

    def is_due(self, serving: RoundServing) -> bool:
        """Whether a serving is due and no unsaved mark settles it."""
        due = serving.due
        return serving.state == "due" and not self.unsaved.settles(self.day, due.tank, due.feed)

    def finish(self, stop: Stop) -> Outcome:
        """Mark everything still due at a stop: given as due, or skipped with the rule that holds it back."""
        drafts = finish_stop(replace(stop, servings=tuple(each for each in stop.servings if self.is_due(each))))
        if not drafts:
            return Outcome(False, f"{stop.tank}: nothing is due here any more")
        held = sum(isinstance(draft, Skipped) for draft in drafts)
        text = f"{stop.tank} done: {len(drafts) - held} given" + (f", {held} held back" if held else "")
        return self._write(drafts, text)

    def give(self, tank: str, feed: Feed, amount: float | None = None, *, anyway: bool = False) -> Outcome | Refusal:
        """Record a serving as due or in another amount; what stands against it comes back unless the keeper insists."""
        served = give(self.room, self.history, self.day, tank, feed.id, amount, anyway=anyway)
        if isinstance(served, Refusal):
            return served
        extra = " as extra" if served.broke else ""
        dose = self.doses.given_text(feed.id, served.amount, served.unit, served.amount_mg)
        return self._write([served], f"{tank}: {dose} of {feed.name} given{extra}")

    def skip(self, servings: Sequence[RoundServing], because: str) -> Outcome:
        """Record that due servings are left out, and why."""
        drafts = [Skipped(each.due.tank, each.due.feed, each.due.round, clean(because)) for each in servings]
        names = ", ".join(short(each.feed_name, NAME) for each in servings)
        return self._write(drafts, f"{servings[0].due.tank}: {names} skipped, {clean(because)}")

    def let_go(self, day: date, gaps: Sequence[Missed], because: str) -> Outcome:
        """Record that servings missed on a past day are let go, and why; this settles them."""
        drafts = [Skipped(gap.due.tank, gap.due.feed, gap.due.round, clean(because)) for gap in gaps]
        what = f"{len(drafts)} servings" if len(drafts) > 1 else f"{gaps[0].due.tank}"
        return self._write(drafts, f"{what} of {date_text(day)} let go, {clean(because)}", day)

    def observe(self, tank: str, feed: Feed, leftovers: Leftovers) -> Outcome:
        """Record how much of a feed was found lying in a tank."""
        return self._write([Observed(tank, feed.id, leftovers)], f"{tank}: leftovers of {feed.name}: {leftovers}")

    def note(self, tank: str | None, text: str) -> Outcome:
        """Record a note about a tank, or (None) about the room."""
        if not clean(text):
            return Outcome(False, "a note needs a text")
        return self._write([Noted(tank, clean(text))], f"{tank or 'room'}: noted")

    def seen_by(self, flag: Flag) -> tuple[str, ...]:
        """Who has seen a flag and set it aside, the first one first; empty while it stands among the others."""
        return seen_by(flag, self.history, self.unsaved)

    def standing(self, found: Iterable[Flag]) -> tuple[Flag, ...]:
        """Those of some flags that no keeper has set aside."""
        return tuple(flag for flag in found if not self.seen_by(flag))

    def acknowledge(self, flag: Flag) -> Outcome:
        """Set a flag aside as seen, for every keeper, until there is more of it or it is worse."""
        text = f"{flag.tank}: seen, listed last: {flag_name(self.room, flag.kind, flag.feed)}"
        return self._write([acknowledgement_of(flag)], text, flag.day)

    def stand_again(self, flag: Flag) -> Outcome:
        """Take back all that sets a flag aside, whoever wrote it, so that it stands among the others again."""
        text = f"{flag.tank}: among the others again: {flag_name(self.room, flag.kind, flag.feed)}"
        acts = dict.fromkeys(entry.act for entry in setting_aside(flag, self.history, self.unsaved))
        self.unsaved.drop(waiting(flag, self.unsaved))
        told = Outcome(True, text)
        for act in acts:
            told = self._write([Undone(act)], text, flag.day)
        return replace(told, tanks=told.tanks | {flag.tank}, undoable=False)

    def undo(self) -> Outcome:
        """Take back this keeper's newest act of today, an unsaved one first."""
        mark = self.unsaved.take_back()
        if mark is not None:
            return Outcome(True, f"taken back before it was saved: {mark.text}", _about(mark.what), undoable=False)
        act = self.ledger.last_act(self.by)
        if not act or self.day not in (act[0].day, self.room.day(act[0].at)):
            return Outcome(False, f"nothing of {self.by}'s to take back today")
        texts = [marked_text(self.room, each) for each in act]
        what = "; ".join(texts[:2]) + (f" and {len(texts) - 2} more" if len(texts) > 2 else "")
        return replace(self._write([Undone(act[0].act)], f"taken back: {what}", act[0].day), undoable=False)

    def save_again(self) -> Outcome | None:
        """Try to write what is unsaved; None where nothing is. Raises `LedgerFault` where it still cannot be."""
        if not self.unsaved:
            return None
        count, beaten = len(self.unsaved), self.unsaved.write(self.ledger)
        told = f"saved now: {count - len(beaten)} of {count}"
        if beaten:
            told += f"; somebody else had already marked: {'; '.join(mark.text for mark in beaten)}"
        return Outcome(True, told, self.catch_up(), undoable=False)

    def _write(self, drafts: Sequence[What], text: str, day: date | None = None) -> Outcome:
        mark = Mark(tuple(drafts), day or self.day, self.clock(), self.by, text)
        try:
            admitted(mark.what, mark.day, mark.at, mark.by)
        except LedgerFault as fault:
            return Outcome(False, str(fault))
        if self.unsaved:
            # Behind those that wait already, without asking the ledger again: nobody stands waiting for it at a tank.
            self.unsaved.keep(mark)
            return Outcome(False, f"NOT SAVED YET, kept and tried again: {text}", _about(mark.what), kept=True)
        try:
            self.ledger.append(mark.what, day=mark.day, at=mark.at, by=mark.by)
        except AlreadyMarked as marked:
            self.catch_up()
            winner = marked.winner
            who = f"{winner.by or 'the program'} at {clock_text(winner.at, self.room.zone)}"
            text = f"not recorded, already marked by {who}: {marked_text(self.room, winner)}"
            return Outcome(False, text, _tanks([winner], self.history))
        except LedgerFault as fault:
            self.unsaved.keep(mark)
            return Outcome(False, f"NOT SAVED YET, kept and tried again: {text}. {fault}", _about(mark.what), kept=True)
        return Outcome(True, text, self.catch_up())

    def catch_up(self) -> frozenset[str]:
        """Take in what was added to the ledger since, by anyone; the tanks it touches, whose stops are made anew."""
        new = self.ledger.after(self.history.seq)
        before, self.history = self.history, refresh(self.history, self.ledger)
        self.news = tuple(entry for entry in new if entry.by != self.by)
        touched = _tanks(new, before)
        for tank in touched:
            self._flags.pop(tank, None)
        self.sheet = self._with_stops(touched)
        return touched

    def _with_stops(self, tanks: frozenset[str]) -> RoundSheet:
        """The sheet with the stops of some tanks made anew; a stop that comes or goes makes the whole sheet anew."""
        known = {stop.tank for stop in self.sheet.stops}
        made = {
            tank: stop_of(self.room, self.history, self.day, self.day, self.round, tank)
            for tank in tanks
            if tank in self.room.tanks
        }
        if any((stop is None) == (tank in known) for tank, stop in made.items()):
            return round_sheet(self.room, self.history, self.day, self.day, self.round)
        return replace(self.sheet, stops=tuple(made.get(stop.tank) or stop for stop in self.sheet.stops))


def _about(whats: Iterable[What]) -> frozenset[str]:
    """The tanks that drafts are about."""
    return frozenset(what.tank for what in whats if not isinstance(what, Undone | Posting) and what.tank is not None)


def _tanks(entries: Iterable[Entry], history: History) -> frozenset[str]:
    """The tanks that entries are about, those of undone acts included."""
    acts = {entry.what.act for entry in entries if isinstance(entry.what, Undone)}
    undone = [entry for entry in history.entries if entry.act in acts] if acts else []
    return _about(entry.what for entry in (*entries, *undone))
