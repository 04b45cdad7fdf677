"""What a helper ticked on the sheet, as entries of the ledger: given as planned, left out, or cloudy.

Cloudy means that the feed was left out since the water was cloudy or food lay there. Whatever was given there on the
visit before counts as mostly left, which lowers what the tank gets of it and holds back the next solid feed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final, Literal

from schedules.history import History
from schedules.ledger import Observed, PostedServing, Reason, Served, Skipped, What
from schedules.room import Room
from schedules.round.marks import as_served

Tick = Literal["given", "left", "cloudy"]
Place = tuple[date, str]
"""One visit at one tank."""
REASONS: Final[dict[Tick, str]] = {"left": "left_out", "cloudy": "cloudy"}
CLOUDY_LOOKS_BACK: Final = 7
"""Days back to the feed that may lie there."""


@dataclass(frozen=True, slots=True)
class HelperSheet:
    """A sheet that came back: who ticked it, its days, and what is open on it by visit and tank, in walking order."""

    helper: str
    first: date
    last: date
    visits: Mapping[Place, tuple[PostedServing, ...]]

    @property
    def days(self) -> tuple[date, ...]:
        """The days with an open visit."""
        return tuple(sorted({day for day, _ in self.visits}))


def helper_sheet(
    room: Room, history: History, today: date, first: date | None = None, last: date | None = None
) -> HelperSheet | None:
    """The sheet of the newest leave plan that has begun, or of the days asked for; None where no plan holds there."""
    begun = [day for day in history.leave if day <= today]
    within = [day for day in begun if (first or day) <= day <= (last or day)]
    if not within:
        return None
    held = history.leave[within[-1]]
    same = [day for day in within if history.leave[day].seq == held.seq]
    begin, end = first or same[0], min(last or same[-1], today)
    return HelperSheet(held.helper, begin, end, open_visits(room, history, begin, end))


def open_visits(room: Room, history: History, first: date, last: date) -> dict[Place, tuple[PostedServing, ...]]:
    """What a leave plan gives by visit and tank, in walking order, as far as it is not marked yet."""
    found: dict[Place, tuple[PostedServing, ...]] = {}
    for day in (day for day in history.leave if first <= day <= last):
        for tank in room.walk:
            due = tuple(each for each in history.due_in(tank, day) if not _marked(history, day, each))
            if due:
                found[day, tank] = due
    return found


def _marked(history: History, day: date, due: PostedServing) -> bool:
    return any(
        isinstance(entry.what, Served | Skipped) and (entry.what.feed, entry.what.round) == (due.feed, due.round)
        for entry in history.about(due.tank, day)
    )


def entries_of(
    history: History, visits: Mapping[Place, Sequence[PostedServing]], ticks: Mapping[Place, Tick]
) -> dict[date, tuple[What, ...]]:
    """The entries of a sheet by day; a visit of which nothing is said went as planned."""
    days: dict[date, list[What]] = {}
    given = {place: tuple(due) for place, due in visits.items() if ticks.get(place, "given") == "given"}
    for (day, tank), due in sorted(visits.items(), key=lambda each: each[0][0]):
        tick = ticks.get((day, tank), "given")
        days.setdefault(day, []).extend(_of_visit(due, tick))
        if tick == "cloudy":
            days[day].extend(Observed(tank, feed, "most") for feed in _lying(history, given, day, tank))
    return {day: tuple(drafts) for day, drafts in days.items()}


def _of_visit(due: Sequence[PostedServing], tick: Tick) -> Iterator[What]:
    if tick == "given":
        yield from (as_served(each) for each in due)
        return
    yield from (Skipped(each.tank, each.feed, each.round, Reason(REASONS[tick])) for each in due)


def _lying(history: History, given: Mapping[Place, Sequence[PostedServing]], day: date, tank: str) -> tuple[str, ...]:
    """The feeds of the last visit or round before a day: what lies there came from them."""
    for ago in range(1, CLOUDY_LOOKS_BACK + 1):
        before = day - timedelta(days=ago)
        feeds = [each.feed for each in given.get((before, tank), ())]
        feeds += [what.feed for _, what in history.served_on(tank, before)]
        if feeds:
            return tuple(dict.fromkeys(feeds))
    return ()
