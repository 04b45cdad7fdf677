"""A history read from a ledger, and brought up to date with what was written since."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from itertools import takewhile
from typing import Any, Final

from schedules.history.history import LOOK_BACK_DAYS, WATER_DAYS, History
from schedules.history.leave import changes_leave, leave_of
from schedules.history.projection import ABOUT, CHORES, GIVEN, WATER, Projection
from schedules.ledger import ChoreMark, Entry, Ledger, Served
from schedules.ledger.entries.water.added import ADDED
from schedules.ledger.entries.water.changed import CHANGED
from schedules.ledger.entries.water.reading import READING
from schedules.ledger.entries.water.salted import SALTED
from schedules.ledger.standing import standing, undone_act

FURTHER: Final = timedelta(days=WATER_DAYS - LOOK_BACK_DAYS)
"""So much further back than all else do entries about the water reach."""
WATER_KINDS: Final = tuple(kind.name for kind in (READING, SALTED, ADDED, CHANGED))
KEPT: Final[tuple[Projection[Any], ...]] = (ABOUT, CHORES, GIVEN)
"""The projections that a history passes on."""


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
            chores_before=ledger.last_chores(first),
            water=_water(ledger, first - FURTHER, last),
            leave=leave_of(ledger, first),
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
    made.lookups.take_over(known.lookups, (*KEPT, WATER), posted=True)
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
        undone = {act for entry in fresh if (act := undone_act(entry)) is not None}
        gone = {act: _entries_of(history.entries, act) for act in undone}
        reaches_back = _reaches_back(history, fresh, gone)
        away = changes_leave(fresh)
        added = tuple(
            entry for entry in standing(fresh) if entry.act not in undone and history.first <= entry.day <= history.last
        )
        since = history.first - FURTHER
        water = tuple(
            entry
            for entry in standing(fresh)
            if isinstance(entry.what, WATER.reads) and entry.act not in undone and since <= entry.day <= history.last
        )
        made = replace(
            history,
            entries=(*_without(history.entries, gone), *added),
            postings=ledger.due(history.first, history.last) if posted else history.postings,
            last_before=ledger.last_served(history.first) if reaches_back else history.last_before,
            first_ever=ledger.first_served() if reaches_back else history.first_ever,
            seq=newest,
            chores_before=ledger.last_chores(history.first) if reaches_back else history.chores_before,
            water=(*_without_acts(history.water, undone), *water) if undone or water else history.water,
            leave=leave_of(ledger, history.first) if away else history.leave,
        )
    dry = [entry for entry in history.water if entry.act in undone]
    made.lookups.take_over(history.lookups, (WATER,), water, dry, posted=posted or away)
    lost = [entry for entries in gone.values() for entry in entries]
    made.lookups.take_over(history.lookups, KEPT, added, lost, posted=posted or away)
    return made


def _entries_of(entries: tuple[Entry, ...], act: int) -> tuple[Entry, ...]:
    """The entries of one act, which stand one after the other."""
    first = bisect_left(entries, act, key=lambda entry: entry.seq)
    after = (entries[number] for number in range(first, len(entries)))
    return tuple(takewhile(lambda entry: entry.act == act, after))


def _water(ledger: Ledger, first: date, last: date) -> tuple[Entry, ...]:
    """The standing entries about the water of the days `first` to `last`, by order of writing."""
    found = (ledger.of_kind(kind, first - timedelta(days=1)) for kind in WATER_KINDS)
    return tuple(sorted((entry for each in found for entry in each if entry.day <= last), key=lambda each: each.seq))


def _without_acts(entries: tuple[Entry, ...], acts: set[int]) -> tuple[Entry, ...]:
    return tuple(entry for entry in entries if entry.act not in acts) if acts else entries


def _without(entries: tuple[Entry, ...], gone: Mapping[int, tuple[Entry, ...]]) -> tuple[Entry, ...]:
    if not any(gone.values()):
        return entries
    return tuple(entry for entry in entries if entry.act not in gone)


def _reaches_back(history: History, fresh: tuple[Entry, ...], gone: Mapping[int, tuple[Entry, ...]]) -> bool:
    """Whether fresh entries can change first servings or those before the history: an old day, a first, an undo."""
    for entry in fresh:
        act = undone_act(entry)
        if act is not None:
            touched = (*gone[act], *(each for each in fresh if each.act == act))
            if not touched or any(_is_early(history, one, True) for one in touched):
                return True
        elif _is_early(history, entry, False):
            return True
    return False


def _is_early(history: History, entry: Entry, undo: bool) -> bool:
    """Whether a mark made or undone moves the first serving ever, or lies before the history."""
    if isinstance(entry.what, ChoreMark):
        return entry.day < history.first
    if not isinstance(entry.what, Served):
        return False
    ever = history.first_ever.get((entry.what.tank, entry.what.feed))
    return ever is None or entry.day < max(ever, history.first) or (undo and entry.day == ever)
