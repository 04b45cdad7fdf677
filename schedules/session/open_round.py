"""One open round: the room, its ledger, what holds now, and what others did meanwhile. Acts are in `session.py`."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Final, Literal

from schedules.chores import ChoreDue, late_chores
from schedules.history import History, history_of, refresh
from schedules.history.leave import Leave, with_leave
from schedules.history.life import Life, life_of, room_as_of
from schedules.history.life.reading import KNOWN_DAYS, sum_up, touches_life
from schedules.history.projection import WATER
from schedules.ledger import (
    Came,
    Entry,
    Ledger,
    LedgerFault,
    Posting,
    Sighting,
    Undone,
    What,
    tank_of,
)
from schedules.planning.horizon import goes_on
from schedules.planning.opening import open_day
from schedules.review.flags import Flag, flags
from schedules.review.flags.response import rack_mates
from schedules.review.flags.types import RANK
from schedules.review.missed import DaySpan, Missed, Turns, missed, unposted_days, whole_spans
from schedules.room import Room
from schedules.round import RoundSheet, current_round, round_sheet
from schedules.round.chore_stops import walk_of
from schedules.round.doses import Doses, mix_round
from schedules.round.sheet import stop_at
from schedules.stock import open_packs, room_with_packs
from schedules.stock.reading import shelf_entries, touches_shelf

Clock = Callable[[], datetime]
SHARED: Final[tuple[type[What], ...]] = (Came, Sighting, *WATER.reads)
"""What is said of one tank and looked at beside its rack."""
Posts = Literal["nothing", "today", "days"]
"""What opening a day posts where it was not posted yet: nothing, today alone, or today and the coming days."""


@dataclass(frozen=True, slots=True)
class _Postings:
    """The turns of the postings in force from a day on: good as long as the history has the very same postings."""

    history_has: tuple[Posting, ...]
    leave: Leave
    since: date
    turns: Turns


class OpenRound:
    """The round being walked and what is known of it.

    `day` is the date of the round: it stays when midnight passes, until the keeper opens the new day.
    """

    def __init__(self, room: Room, ledger: Ledger, clock: Clock, by: str, *, posts: Posts = "days") -> None:
        """`room` is the room file's, `clock` gives the present moment (aware), `by` is the keeper who acts.

        `self.room` is the same room with the animals as they were seen since the file was written.
        """
        self.file_room = room
        self.ledger = ledger
        self.clock = clock
        self.by = by
        self.posts = posts
        self._postings: _Postings | None = None
        self.open()

    def open(self, round_id: str | None = None) -> None:
        """Open the round to walk now (or the one named) of the present day, posting what is to be posted."""
        now = self.clock()
        # Read first: where the ledger fails, the round that was open stays open.
        day = self.file_room.day(now)
        if self.posts != "nothing":
            sum_up(self.ledger, self.file_room, day, now)
        life = life_of(self.ledger, self.file_room, day)
        room = self._as_it_is(self.file_room, life, day)
        history = self._opened(room, now)
        self.life: Life = life
        self.room: Room = room
        self.day: date = day
        self.round: str = round_id or current_round(room, now)
        self.history: History = history
        self.sheet: RoundSheet = self.sheet_of(self.day, self.round)
        self.news: tuple[Entry, ...] = ()
        self._flags: dict[str, tuple[Flag, ...]] = {}
        self._doses: Doses | None = None

    def _opened(self, room: Room, now: datetime) -> History:
        if self.posts == "nothing":
            return history_of(self.ledger, room.day(now))
        return open_day(room, self.ledger, now, at_once=self.posts == "today")

    def lived_in(self, room: Room) -> Room:
        """A room as a file has it, with the animals as they were seen since."""
        return self._as_it_is(room, life_of(self.ledger, room, self.day), self.day)

    def _as_it_is(self, room: Room, life: Life, day: date) -> Room:
        """A room as a file has it, with the animals as they were seen since, and the dates of open packs."""
        packs = open_packs(room, shelf_entries(self.ledger))
        return room_as_of(room_with_packs(room, packs), life, day)

    def plan_coming_days(self) -> None:
        """Plan and post the days after today where today alone was posted. This can take several seconds."""
        if not self.knows_coming_days:
            open_day(self.room, self.ledger, self.clock())
            self.catch_up()

    def room_on(self, day: date) -> Room:
        """The room as it was lived in on a day, also on one so long ago that it is not known day by day any more."""
        if (self.day - day).days < KNOWN_DAYS:
            return self.room
        return self._as_it_is(self.file_room, life_of(self.ledger, self.file_room), self.day)

    def take_room(self, room: Room) -> None:
        """Go on with an edited room; what is posted stays posted. Where the ledger fails, the old room stays."""
        before, self.file_room = self.file_room, room
        try:
            self.open(self.round if self.round in {walk.id for walk in room.rounds} else None)
        except LedgerFault:
            self.file_room = before
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
    def plan(self) -> Posting | None:
        """What is due today and on the coming days: as posted, on days away by the leave plan."""
        posting = self.history.posting(self.day)
        return None if posting is None else with_leave(posting, self.history.leave)

    @property
    def other_rounds(self) -> tuple[str, ...]:
        """The day's other rounds."""
        return tuple(walk.id for walk in self.room.rounds if walk.id != self.round)

    @property
    def doses(self) -> Doses:
        """The mixes of this round, worked out when first asked for: they stay the same while the round is walked."""
        if self._doses is None:
            self._doses = mix_round(self.room, self.history, self.day, self.round)
        return self._doses

    def reaching(self, first: date) -> History:
        """The history as of now, reaching back to a day."""
        if self.history.first <= first:
            return self.history
        return history_of(self.ledger, self.day, look_back=(self.day - first).days)

    def sheet_of(self, day: date, round_id: str) -> RoundSheet:
        """The sheet of a round of any day."""
        return round_sheet(self.room, self.reaching(day), self.day, day, round_id)

    def flags(self) -> tuple[Flag, ...]:
        """All flags as of now, worst first; worked out again only for tanks where something changed."""
        found = [flag for tank in self.room.walk for flag in self.flags_of(tank)]
        return tuple(sorted(found, key=lambda flag: (RANK[flag.severity], -flag.day.toordinal())))

    def know_flags(self, room: Room, history: History, found: Mapping[str, tuple[Flag, ...]]) -> None:
        """Take over flags worked out elsewhere from an earlier history, but for tanks that were written of since."""
        if room is not self.room or (history.first, history.last) != (self.history.first, self.history.last):
            return
        try:
            new = () if history is self.history else self.ledger.after(history.seq)
        except LedgerFault:
            return  # then they are worked out when asked for, and the fault is shown where it is in the way
        touched = _flagged_with(room, new, history, tanks_of(new, history))
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
        return missed(self.room, self.reaching(since), self._postings.turns, self.day, since)

    def late_chores(self) -> tuple[ChoreDue, ...]:
        """Chores past the last day of their window and not settled, the longest first."""
        return late_chores(self.room, self.history, self.day)

    def unposted(self, since: date) -> tuple[DaySpan, ...]:
        """Past days from a day on for which no plan was posted, whole spans of them, from the first plan on."""
        return whole_spans(self.ledger, unposted_days(self.reaching(since), self.day, since))

    def knows_postings(self, since: date) -> bool:
        """Whether the whole postings in force from a day on are known."""
        known = self._postings
        if known is None or known.since != since:
            return False
        return known.history_has is self.history.postings and known.leave is self.history.leave

    def know_postings(self, history: History, since: date, whole: tuple[Posting, ...]) -> None:
        """Take over the whole postings in force from a day on, read elsewhere for a history."""
        held = tuple(with_leave(posting, history.leave) for posting in whole)
        self._postings = _Postings(history.postings, history.leave, since, Turns(held))

    def catch_up(self) -> frozenset[str]:
        """Take in what was added to the ledger since, by anyone; the tanks it touches."""
        new = self.ledger.after(self.history.seq)
        before, self.history = self.history, refresh(self.history, self.ledger)
        self.news = tuple(entry for entry in new if entry.by not in (None, self.by))
        touched = tanks_of(new, before)
        if touches_life(new) or touches_shelf(new):
            touched |= self._as_it_is_now()
        for tank in _flagged_with(self.room, new, before, touched):
            self._flags.pop(tank, None)
        self.sheet = self._with_stops(touched)
        return touched

    def _as_it_is_now(self) -> frozenset[str]:
        """Take in what was seen of the animals since, and packs opened; the tanks for which that changes something."""
        life = life_of(self.ledger, self.file_room, self.day)
        before, room = self.room, self._as_it_is(self.file_room, life, self.day)
        packs = room.feeds != before.feeds
        changed = frozenset(tank for tank in room.tanks if packs or room.tanks[tank] != before.tanks[tank])
        self.life = life
        if changed:
            self.room = room
        return changed

    def _with_stops(self, tanks: frozenset[str]) -> RoundSheet:
        """The sheet with the stops of some tanks made again; a stop that comes or goes makes the whole sheet again."""
        known = {stop.key for stop in self.sheet.stops}
        if any(chore.condition == "tds_drift" for chore in self.room.chores):
            # What was read in one tank can be found in its whole rack.
            tanks = tanks.union(*(rack_mates(self.room, tank) for tank in tanks if tank in self.room.tanks))
        touched = (where for where in walk_of(self.room) if where.tank is None or where.tank in tanks)
        made = {where.key: stop_at(self.room, self.history, self.day, self.day, self.round, where) for where in touched}
        if any((stop is None) == (key in known) for key, stop in made.items()):
            return round_sheet(self.room, self.history, self.day, self.day, self.round)
        return replace(self.sheet, stops=tuple(made.get(stop.key) or stop for stop in self.sheet.stops))


def about(whats: Iterable[What]) -> frozenset[str]:
    """The tanks that drafts are about."""
    return frozenset(tank for what in whats if (tank := tank_of(what)) is not None)


def tanks_of(entries: Iterable[Entry], history: History) -> frozenset[str]:
    """The tanks that entries are about, those of undone acts included."""
    listed = tuple(entries)
    acts = {entry.what.act for entry in listed if isinstance(entry.what, Undone)}
    undone = [entry for entry in (*history.entries, *history.water) if entry.act in acts] if acts else []
    return about(entry.what for entry in (*listed, *undone))


def _flagged_with(room: Room, new: Iterable[Entry], before: History, touched: frozenset[str]) -> frozenset[str]:
    """The tanks whose flags entries can change: those they touch, all of a rack where these are set side by side."""
    listed = tuple(new)
    acts = {entry.what.act for entry in listed if isinstance(entry.what, Undone)}
    undone = (entry for entry in (*before.entries, *before.water) if entry.act in acts) if acts else ()
    shared = {
        tank
        for entry in (*listed, *undone)
        if isinstance(entry.what, SHARED) and (tank := tank_of(entry.what)) is not None
    }
    return touched.union(*(rack_mates(room, tank) for tank in shared))


def days_before(day: date, count: int) -> date:
    """The day so many days before another, the first day there is where that lies further back."""
    return day - timedelta(days=min(count, day.toordinal() - 1))
