"""The keeper's desk: one open round, what holds now, and the acts that can be done. Knows nothing of screens."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from schedules.flags import Flag, flags
from schedules.ledger import (
    AlreadyMarked,
    Entry,
    History,
    Ledger,
    Leftovers,
    Noted,
    Observed,
    Posting,
    Skipped,
    Undone,
    What,
)
from schedules.ledger.history import refresh
from schedules.plan.posting import open_day
from schedules.room import Feed, Room
from schedules.round import Refusal, RoundServing, RoundSheet, Stop, current_round, finish_stop, give, round_sheet
from schedules.round.sheet import stop_of
from schedules.words import clean
from tui.telling import dose_text, entry_text, marked_text

Clock = Callable[[], datetime]


@dataclass(frozen=True, slots=True)
class Told:
    """What an act came to: whether it was recorded, what to tell the keeper in one line, which tanks it touched."""

    done: bool
    text: str
    tanks: frozenset[str] = frozenset()


class Desk:
    """A room, its ledger and the round being walked.

    Every act is on disk before its method returns. `day` is the date of the round being walked: it stays when midnight
    passes, until the keeper opens the new day.
    """

    def __init__(self, room: Room, ledger: Ledger, clock: Clock, by: str) -> None:
        self.room = room
        self.ledger = ledger
        self.clock = clock
        self.by = by
        self.open()

    def open(self, round_id: str | None = None) -> None:
        """Open the round to walk now (or the one named) of the present day, posting the day's plan if need be."""
        now = self.clock()
        self.day: date = self.room.day(now)
        self.round: str = round_id or current_round(self.room, now)
        self.history: History = open_day(self.room, self.ledger, now)
        self.sheet: RoundSheet = round_sheet(self.room, self.history, self.day, self.day, self.round)
        self._flags: dict[str, tuple[Flag, ...]] = {}

    @property
    def new_day(self) -> bool:
        """Whether the room's date has gone past the round being walked."""
        return self.room.day(self.clock()) != self.day

    @property
    def other_rounds(self) -> tuple[str, ...]:
        """The day's other rounds."""
        return tuple(walk.id for walk in self.room.rounds if walk.id != self.round)

    def flags(self) -> tuple[Flag, ...]:
        """All flags as of now, worst first."""
        return flags(self.room, self.history, self.clock())

    def flags_of(self, tank: str) -> tuple[Flag, ...]:
        """One tank's flags, worked out when first asked for after a change there."""
        if tank not in self._flags:
            self._flags[tank] = flags(self.room.only(tank), self.history, self.clock())
        return self._flags[tank]

    def finish(self, stop: Stop) -> Told:
        """Mark everything still due at a stop: given as due, or skipped with the rule that holds it back."""
        drafts = finish_stop(stop)
        if not drafts:
            return Told(False, f"{stop.tank}: nothing is due here any more")
        held = sum(isinstance(draft, Skipped) for draft in drafts)
        text = f"{stop.tank} done: {len(drafts) - held} given" + (f", {held} held back" if held else "")
        return self._write(drafts, text)

    def give(self, tank: str, feed: Feed, amount: float | None = None, *, anyway: bool = False) -> Told | Refusal:
        """Record a serving as due or in another amount; what stands against it comes back unless the keeper insists."""
        served = give(self.room, self.history, self.day, tank, feed.id, amount, anyway=anyway)
        if isinstance(served, Refusal):
            return served
        extra = " as extra" if served.broke else ""
        dose = dose_text(served.amount, served.unit, served.amount_mg)
        return self._write([served], f"{tank}: {dose} of {feed.name} given{extra}")

    def skip(self, servings: Sequence[RoundServing], because: str) -> Told:
        """Record that due servings are left out, and why."""
        drafts = [Skipped(each.due.tank, each.due.feed, each.due.round, clean(because)) for each in servings]
        names = ", ".join(each.feed_name for each in servings)
        return self._write(drafts, f"{servings[0].due.tank}: {names} skipped, {clean(because)}")

    def observe(self, tank: str, feed: Feed, leftovers: Leftovers) -> Told:
        """Record how much of a feed was found lying in a tank."""
        return self._write([Observed(tank, feed.id, leftovers)], f"{tank}: leftovers of {feed.name}: {leftovers}")

    def note(self, tank: str | None, text: str) -> Told:
        """Record a note about a tank, or (None) about the room."""
        if not clean(text):
            return Told(False, "a note needs a text")
        return self._write([Noted(tank, clean(text))], f"{tank or 'room'}: noted")

    def undo(self) -> Told:
        """Take back this keeper's newest act of the round's day."""
        act = self.ledger.last_act(self.by)
        if not act or act[0].day != self.day:
            return Told(False, f"nothing of {self.by}'s to take back today")
        return self._write(
            [Undone(act[0].act)], f"taken back: {'; '.join(marked_text(self.room, each) for each in act)}"
        )

    def _write(self, drafts: Sequence[What], text: str) -> Told:
        try:
            self.ledger.append(drafts, day=self.day, at=self.clock(), by=self.by)
        except AlreadyMarked as marked:
            self.catch_up()
            winner = marked.winner
            return Told(False, f"not recorded, already {entry_text(self.room, winner)}", _tanks([winner], self.history))
        return Told(True, text, self.catch_up())

    def catch_up(self) -> frozenset[str]:
        """Take in what was added to the ledger since, by anyone; the tanks it touches, whose stops are made anew."""
        new = self.ledger.after(self.history.seq)
        before, self.history = self.history, refresh(self.history, self.ledger)
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


def _tanks(entries: Iterable[Entry], history: History) -> frozenset[str]:
    """The tanks that entries are about, those of undone acts included."""
    acts = {entry.what.act for entry in entries if isinstance(entry.what, Undone)}
    undone = [entry for entry in history.entries if entry.act in acts] if acts else []
    whats = [entry.what for entry in (*entries, *undone)]
    return frozenset(what.tank for what in whats if not isinstance(what, Undone | Posting) and what.tank is not None)
