"""What holds now: the ledger's entries with the undone ones taken out, by day and tank. Pure values, no store."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from itertools import takewhile

from schedules.ledger.entries import Entry, PostedServing, Posting, Served, Undone, tank_of
from schedules.ledger.ledger import Ledger
from schedules.ledger.standing import standing

LOOK_BACK_DAYS = 28
"""How many days before today a history holds: four whole weeks, so that a ledger of ten years opens like one of a
month. What lies further back is kept only as first and last servings; who wants to look further asks for more."""


@dataclass(frozen=True)
class History:
    """The part of the ledger that decisions need: standing entries about the days `first` to `last`, and what was due.

    `last_before` and `first_ever` reach back further than `first`: the last day before `first` on which a feed was
    given to a tank, and the first day it was ever given. `seq` is the number of the newest entry it knows of.
    """

    first: date
    last: date
    entries: tuple[Entry, ...]
    postings: tuple[Posting, ...]
    last_before: Mapping[tuple[str, str], date]
    first_ever: Mapping[tuple[str, str], date]
    seq: int = 0

    @cached_property
    def _served(self) -> dict[tuple[str, str], list[tuple[Entry, Served]]]:
        """Servings by (tank, feed), each list by day and then by order of writing."""
        found: dict[tuple[str, str], list[tuple[Entry, Served]]] = {}
        for entry in sorted(self.entries, key=lambda entry: (entry.day, entry.seq)):
            if isinstance(entry.what, Served):
                found.setdefault((entry.what.tank, entry.what.feed), []).append((entry, entry.what))
        return found

    @cached_property
    def _by_day(self) -> dict[tuple[date, str], list[Entry]]:
        """Standing entries by (day, tank)."""
        found: dict[tuple[date, str], list[Entry]] = {}
        for entry in self.entries:
            tank = _tank(entry)
            if tank is not None:
                found.setdefault((entry.day, tank), []).append(entry)
        return found

    def about(self, tank: str, day: date) -> tuple[Entry, ...]:
        """Standing entries about a tank on a day, in the order they were written."""
        return tuple(self._by_day.get((day, tank), ()))

    def served_on(self, tank: str, day: date) -> tuple[tuple[Entry, Served], ...]:
        """What a tank was given on a day, in the order it was written."""
        return tuple((entry, entry.what) for entry in self.about(tank, day) if isinstance(entry.what, Served))

    def servings(self, tank: str, feed: str) -> tuple[tuple[Entry, Served], ...]:
        """Every serving of a feed to a tank within the history, by day."""
        return tuple(self._served.get((tank, feed), ()))

    def last_day(self, tank: str, feed: str, before: date) -> date | None:
        """The last day before `before` on which a feed was given to a tank, None for never."""
        for entry, _ in reversed(self._served.get((tank, feed), [])):
            if entry.day < before:
                return entry.day
        return self.last_before.get((tank, feed))

    def part_on(self, tank: str, day: date) -> float:
        """The part of a tank's ration that was given on a day."""
        return sum(what.part for _, what in self.served_on(tank, day))

    def posting(self, day: date) -> Posting | None:
        """The posting in force on a day within the history."""
        found = [posting for posting in self.postings if posting.start <= day]
        return found[-1] if found else None

    def due(self, day: date) -> tuple[PostedServing, ...]:
        """What was or is due on a day: what the posting in force on it says, and nothing outside it."""
        posting = self.posting(day)
        return posting.due(day) if posting else ()

    @cached_property
    def _due_by_tank(self) -> dict[date, dict[str, list[PostedServing]]]:
        """What is due by tank, filled day by day when first asked for."""
        return {}

    def due_in(self, tank: str, day: date) -> tuple[PostedServing, ...]:
        """What was or is due in one tank on a day."""
        if day not in self._due_by_tank:
            by_tank: dict[str, list[PostedServing]] = {}
            for serving in self.due(day):
                by_tank.setdefault(serving.tank, []).append(serving)
            self._due_by_tank[day] = by_tank
        return tuple(self._due_by_tank[day].get(tank, ()))

    def days(self) -> tuple[date, ...]:
        """Every day of the history, first to last."""
        return tuple(self.first + timedelta(days=number) for number in range((self.last - self.first).days + 1))


def history_of(ledger: Ledger, today: date, look_back: int = LOOK_BACK_DAYS, ahead: int = 0) -> History:
    """The history of the days `today - look_back` to `today + ahead`, read at one moment."""
    first, last = today - timedelta(days=look_back), today + timedelta(days=ahead)
    with ledger.moment():
        return History(
            first=first,
            last=last,
            entries=standing(ledger.read(first, last)),
            postings=ledger.due(first, last),
            last_before=ledger.last_served(first),
            first_ever=ledger.first_served(),
            seq=ledger.last_seq(),
        )


def looking_ahead(history: History, ledger: Ledger, ahead: int) -> History:
    """The history as of now, reaching `ahead` days further: entries that it has already are not read again."""
    last = history.last + timedelta(days=ahead)
    with ledger.moment():
        known = refresh(history, ledger)
        beyond = ledger.read(history.last + timedelta(days=1), last)
        if beyond:  # an undo of an entry of these days may lie on an earlier one, so all of it is read
            return history_of(ledger, history.last, (history.last - history.first).days, ahead)
        made = replace(known, last=last, postings=ledger.due(history.first, last))
    # The entries are the same, so what is looked up in the one is looked up for both.
    made.__dict__["_by_day"], made.__dict__["_served"] = known._by_day, known._served
    return made


def refresh(history: History, ledger: Ledger) -> History:
    """The same days with what was written since, by anyone; the very same history where nothing was.

    Reads only what is new, except where something new reaches further back than the history does; what the history
    has looked up already is carried over, so that a mark costs the same in a long history as in a short one.
    """
    with ledger.moment():
        newest = ledger.last_seq()
        if newest == history.seq:
            return history
        fresh = ledger.after(history.seq)
        posted = len(fresh) < newest - history.seq
        undone = {entry.what.act for entry in fresh if isinstance(entry.what, Undone)}
        gone = {act: _entries_of(history.entries, act) for act in undone}
        reaches_back = _reaches_back(history, fresh, gone)
        added = tuple(
            entry for entry in standing(fresh) if entry.act not in undone and history.first <= entry.day <= history.last
        )
        made = replace(
            history,
            entries=(*_without(history.entries, gone), *added),
            postings=ledger.due(history.first, history.last) if posted else history.postings,
            last_before=ledger.last_served(history.first) if reaches_back else history.last_before,
            first_ever=ledger.first_served() if reaches_back else history.first_ever,
            seq=newest,
        )
    _carry_over(history, made, added, [entry for entries in gone.values() for entry in entries])
    return made


def _entries_of(entries: tuple[Entry, ...], act: int) -> tuple[Entry, ...]:
    """The entries of one act, which stand one after the other."""
    first = bisect_left(entries, act, key=lambda entry: entry.seq)
    after = (entries[number] for number in range(first, len(entries)))
    return tuple(takewhile(lambda entry: entry.act == act, after))


def _without(entries: tuple[Entry, ...], gone: Mapping[int, tuple[Entry, ...]]) -> tuple[Entry, ...]:
    if not any(gone.values()):
        return entries
    return tuple(entry for entry in entries if entry.act not in gone)


def _reaches_back(history: History, fresh: tuple[Entry, ...], gone: Mapping[int, tuple[Entry, ...]]) -> bool:
    """Whether fresh entries can change first servings or those before the history: an old day, a first, an undo."""
    for entry in fresh:
        if isinstance(entry.what, Undone):
            act = entry.what.act
            touched = (*gone[act], *(each for each in fresh if each.act == act))
            if not touched or any(_is_early(history, one, True) for one in touched):
                return True
        elif _is_early(history, entry, False):
            return True
    return False


def _carry_over(old: History, made: History, added: Sequence[Entry], gone: Sequence[Entry]) -> None:
    """Give a history what the one before it had looked up, put right for the entries that came and went."""
    lost = {entry.seq for entry in gone}
    touched = (*added, *gone)
    if "_by_day" in old.__dict__:
        by_day = dict(old._by_day)
        for day, tank in {(entry.day, tank) for entry in touched if (tank := _tank(entry)) is not None}:
            kept = [entry for entry in by_day.get((day, tank), ()) if entry.seq not in lost]
            by_day[day, tank] = kept + [entry for entry in added if entry.day == day and _tank(entry) == tank]
        made.__dict__["_by_day"] = by_day
    if "_served" in old.__dict__:
        served = dict(old._served)
        for pair in {(entry.what.tank, entry.what.feed) for entry in touched if isinstance(entry.what, Served)}:
            servings = [serving for serving in served.get(pair, ()) if serving[0].seq not in lost]
            servings += [
                (entry, entry.what)
                for entry in added
                if isinstance(entry.what, Served) and (entry.what.tank, entry.what.feed) == pair
            ]
            served[pair] = sorted(servings, key=lambda serving: (serving[0].day, serving[0].seq))
        made.__dict__["_served"] = served
    if made.postings is old.postings and "_due_by_tank" in old.__dict__:
        made.__dict__["_due_by_tank"] = old._due_by_tank


def _tank(entry: Entry) -> str | None:
    """The tank an entry is about."""
    return tank_of(entry.what)


def _is_early(history: History, entry: Entry, undo: bool) -> bool:
    """Whether a serving made or undone moves the first one ever, or lies before the history."""
    if not isinstance(entry.what, Served):
        return False
    ever = history.first_ever.get((entry.what.tank, entry.what.feed))
    return ever is None or entry.day < max(ever, history.first) or (undo and entry.day == ever)
