"""Spreading chores with slack over the days of their windows, so that the longest day grows least.

Resource levelling: at first everything lies on the first day of its window. Then, the chores that take longest first
(longest processing time), places are moved one by one from the first day to the day of the window with the fewest
minutes, as long as that day stays below what the first day had. No move makes any day longer than the longest before,
so the longest day is never longer than without spreading. Places that share a day follow one another in the walk, so
that a rack is done together as far as that costs nothing.

Only calendars count here, never what was done or posted: so the day of a turn is the same whenever it is asked for.
Feeding is left out for that reason, and because the planner levels the rounds already.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date

from schedules.chores.types import Window
from schedules.chores.windows import calendar_window, days_of
from schedules.room import Room
from schedules.room.chores import Chore, ChorePlace

Days = Mapping[ChorePlace, date]


def spreading_of(room: Room) -> Spreading:
    """The spreading of a room's chores, kept with the room."""
    found = room.chore_days.get("spreading")
    if not isinstance(found, Spreading):
        found = room.chore_days["spreading"] = Spreading(room)
    return found


class Spreading:
    """On which day of each window of the calendar each place of a chore is done."""

    def __init__(self, room: Room) -> None:
        self._room = room
        timed = (chore for chore in room.chores if chore.begins is not None and chore.condition is None)
        self._order = sorted(timed, key=lambda chore: (chore.within > 1, -chore.minutes * len(chore.places), chore.id))
        self._rank = {chore.id: number for number, chore in enumerate(self._order)}
        self._days: dict[tuple[str, Window], tuple[date, ...]] = {}
        self._known: dict[tuple[str, date], tuple[Days, Counter[date]]] = {}
        self._loads: dict[tuple[str, date, bool], float] = {}

    def days(self, chore: Chore, window: Window) -> tuple[date, ...]:
        """The days of any window on which a chore may be done: the same for all its places, so worked out once."""
        key = (chore.id, window)
        if key not in self._days:
            self._days[key] = days_of(self._room, chore, window)
        return self._days[key]

    def day(self, chore: Chore, window: Window, place: ChorePlace) -> date:
        """The day on which a place has its turn in a window of the calendar."""
        return self._spread(chore, window)[0][place]

    def minutes(self, day: date) -> float:
        """Minutes of all chores on a day by the calendar."""
        return sum(self._load(chore, day, spread=True) for chore in self._order)

    def minutes_unspread(self, day: date) -> float:
        """Minutes on a day if every turn were done on the first day of its window."""
        return sum(self._load(chore, day, spread=False) for chore in self._order)

    def _spread(self, chore: Chore, window: Window) -> tuple[Days, Counter[date]]:
        key = (chore.id, window.first)
        if key not in self._known:
            days = self.days(chore, window)
            counts = level([self._beside(chore, day) for day in days], len(chore.places), chore.minutes)
            listed = [day for day, count in zip(days, counts, strict=True) for _ in range(count)]
            self._known[key] = dict(zip(chore.places, listed, strict=True)), Counter(listed)
        return self._known[key]

    def _beside(self, chore: Chore, day: date) -> float:
        """Minutes on a day of all other chores: those that are spread before this one on their days."""
        rank = self._rank[chore.id]
        return sum(
            self._load(other, day, spread=number < rank) for number, other in enumerate(self._order) if number != rank
        )

    def _load(self, chore: Chore, day: date, *, spread: bool) -> float:
        key = (chore.id, day, spread)
        if key not in self._loads:
            self._loads[key] = self._work_out(chore, day, spread=spread)
        return self._loads[key]

    def _work_out(self, chore: Chore, day: date, *, spread: bool) -> float:
        window = calendar_window(chore, day)
        if window is None or not chore.places:
            return 0.0
        if spread:
            return chore.minutes * self._spread(chore, window)[1][day]
        return chore.minutes * len(chore.places) if day == self.days(chore, window)[0] else 0.0


def level(loads: Sequence[float], items: int, minutes: float) -> list[int]:
    """How many of some items of so many minutes go on each day, beside the minutes that each day has already."""
    counts, now = [items, *(0 for _ in loads[1:])], list(loads)
    now[0] += items * minutes
    while counts[0]:
        least = min(range(len(now)), key=lambda number: (now[number], number))
        if now[least] + minutes >= now[0]:
            break
        counts[0], counts[least] = counts[0] - 1, counts[least] + 1
        now[0], now[least] = now[0] - minutes, now[least] + minutes
    return counts
