"""The leave plan: few visits, little feed, nothing risky. Less rather than more.

The helper comes every second day. On a visit a tank is given fine feed, or the fans' feed, only where it would else
wait longer than its clock allows, and one plain staple where its grown animals would else wait longer than four days.
The hard rules of planning hold; a keeper's days off do not, since somebody else comes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import floor
from typing import Final

from schedules.amounts.ration import hold_on, serving
from schedules.history import History
from schedules.leave.safe import times_given, unsafe
from schedules.ledger import PostedServing, Posting
from schedules.planning.posting import still_due
from schedules.planning.problem.build import build_problem
from schedules.planning.problem.types import Clock, PlanFeed, Problem, TankProblem
from schedules.room import Feed, Room, Tank
from schedules.room.kinds import Table

VISIT_EVERY: Final = 2
"""Days from visit to visit: as long as shrimplets may wait for fine feed. Common practice, no source."""
GROUND_WAIT: Final = 4
"""Days that grown animals may wait for food on the ground while the keeper is away. Common practice, no source."""
PART: Final[dict[Table, float]] = {"fine": 0.75, "ground": 0.5, "fan": 0.5}
"""The part of a day's ration that one serving takes at each table. Common practice, no source."""
CLOCKS: Final[dict[Table, tuple[str, ...]]] = {"fine": ("first_fine", "fine"), "ground": ("ground",), "fan": ("fan",)}
"""The clocks that say how often there is food at each table, as they are called in `schedules.room.clocks`."""


@dataclass(frozen=True, slots=True)
class LeavePlan:
    """What a helper gives on the days away.

    `days` holds what is due on each day from `first` on, in walking order; a day with nothing due needs no visit.
    """

    first: date
    days: tuple[tuple[PostedServing, ...], ...]

    @property
    def last(self) -> date:
        """The last day away."""
        return self.first + timedelta(days=len(self.days) - 1)

    @property
    def visits(self) -> tuple[date, ...]:
        """The days on which the helper comes."""
        return tuple(self.first + timedelta(days=number) for number, due in enumerate(self.days) if due)

    @property
    def posting(self) -> Posting:
        """The plan as it is written down."""
        return Posting(self.first, self.days)

    def due(self, day: date) -> tuple[PostedServing, ...]:
        """What is due on a day."""
        return self.posting.due(day)


def leave_problem(room: Room, history: History, today: date, first: date, days: int) -> Problem:
    """The planning problem of the days away: nobody is off, and what is due until then counts as given."""
    return build_problem(replace(room, keepers=()), history, first, days, still_due(history, today, first))


def leave_plan(room: Room, history: History, today: date, first: date, last: date) -> LeavePlan:
    """The plan of the days `first` (today or later) to `last` (both included)."""
    days = (last - first).days + 1
    problem = leave_problem(room, history, today, first, days)
    begin = 1 if days > 1 and not any(_cannot_wait(tank) for tank in problem.tanks.values()) else 0
    visits = tuple(range(begin, days, VISIT_EVERY))
    frame = _Frame(room, history, first, days, visits, times_given(room, history))
    due: list[list[PostedServing]] = [[] for _ in range(days)]
    for tank in room.walk:
        for number, made in frame.servings(room.tanks[tank], problem.tanks[tank]):
            due[number].append(made)
    place = {tank: number for number, tank in enumerate(room.walk)}
    shelf = {feed: number for number, feed in enumerate(room.feeds)}
    ordered = (sorted(day, key=lambda each: (place[each.tank], shelf[each.feed])) for day in due)
    return LeavePlan(first, tuple(map(tuple, ordered)))


def _cannot_wait(tank: TankProblem) -> bool:
    """Whether a need for fine feed or the fans' feed would run out before the second day."""
    return any(
        clock.wanted[0] == 0 and clock.max_gap is not None and 1 - _answered(clock) > clock.max_gap
        for name in (*CLOCKS["fine"], *CLOCKS["fan"])
        if (clock := tank.clocks.get(name)) is not None
    )


def _answered(clock: Clock) -> int:
    """The day from which on a clock has been waiting."""
    since = -1 if clock.wanted_since is None else clock.wanted_since - 1
    return since if clock.last is None else max(clock.last.day, since)


@dataclass(frozen=True, slots=True)
class _Frame:
    """What the plan of every tank shares. Days are numbered from the first day away."""

    room: Room
    history: History
    first: date
    days: int
    visits: tuple[int, ...]
    given: Mapping[str, int]

    def servings(self, tank: Tank, problem: TankProblem) -> Iterator[tuple[int, PostedServing]]:
        """The servings of one tank with their days, table by table."""
        for table, names in CLOCKS.items():
            clocks = {name: problem.clocks[name] for name in names if name in problem.clocks}
            if clocks:
                yield from self._at_table(tank, problem, table, tuple(clocks.values()))

    def _at_table(
        self, tank: Tank, problem: TankProblem, table: Table, clocks: Sequence[Clock]
    ) -> Iterator[tuple[int, PostedServing]]:
        feeds, last = self._safe(tank, problem, table), _Last(problem)
        answered = max(_answered(clock) for clock in clocks)
        wait = min(clock.max_gap or VISIT_EVERY for clock in clocks)
        wait = max(wait, GROUND_WAIT) if table == "ground" else wait
        for number, day in enumerate(self.visits):
            following = self._following(problem, feeds, clocks, self.visits[number + 1 :])
            if not _wanted(clocks, day) or following - answered <= wait:
                continue
            possible = (self._given(tank, problem, feed, day) for feed in feeds if last.allows(feed.id, day))
            made = next((each for each in possible if each is not None), None)
            if made is not None:
                yield day, made
                last.given(made.feed, day)
                answered = day

    def _safe(self, tank: Tank, problem: TankProblem, table: Table) -> list[Feed]:
        """The feeds that a helper may give at a table, powder before film, and those first that are given most."""
        last = self.first + timedelta(days=self.days - 1)
        feeds = [self.room.feeds[name] for name, feed in problem.feeds.items() if feed.table == table]
        safe = [feed for feed in feeds if unsafe(self.history, tank, feed, self.first, last) is None]
        return sorted(safe, key=lambda feed: (feed.kind == "biofilm", -self.given[feed.id]))

    def _following(
        self, problem: TankProblem, feeds: Sequence[Feed], clocks: Sequence[Clock], later: Sequence[int]
    ) -> int:
        """The next visit on which the table can be fed again: at the latest the day on which the keeper is back."""
        open_on = (day for day in later if _wanted(clocks, day))
        return next((day for day in open_on if any(day in problem.feeds[feed.id].open for feed in feeds)), self.days)

    def _given(self, tank: Tank, problem: TankProblem, feed: Feed, day: int) -> PostedServing | None:
        """A feed on a visit; None on a day closed to it, where leftovers hold it back, or where nothing comes of it."""
        planned, on = problem.feeds[feed.id], self.first + timedelta(days=day)
        if day not in planned.open or hold_on(self.room, self.history, tank.id, feed, on) is not None:
            return None
        return self._serving(tank, feed, planned, on)

    def _serving(self, tank: Tank, feed: Feed, planned: PlanFeed, on: date) -> PostedServing | None:
        part = min(planned.most, PART[feed.table])
        made = serving(tank, feed, part, on, room=self.room, history=self.history)
        if made.mg <= 0:
            return None
        method = tank.feeds[feed.id].method
        short = floor(made.part * 1e6) / 1e6
        return PostedServing(tank.id, feed.id, feed.round, short, made.measures, made.unit, made.mg, method)


class _Last:
    """On which days a tank was last given each feed, and each of its clocks answered: what shortest gaps count from."""

    def __init__(self, problem: TankProblem) -> None:
        self._problem = problem
        self._feeds = {name: feed.last for name, feed in problem.feeds.items()}
        self._clocks = {name: clock.last.day if clock.last else None for name, clock in problem.clocks.items()}

    def allows(self, feed: str, day: int) -> bool:
        """Whether the shortest gaps of a feed and of the clocks it answers are over."""
        gaps = [(self._feeds[feed], self._problem.feeds[feed].min_gap)]
        gaps += [(self._clocks[name], clock.min_gap) for name, clock in self._answering(feed)]
        return all(last is None or day - last >= gap for last, gap in gaps)

    def given(self, feed: str, day: int) -> None:
        """A feed is given on a day."""
        self._feeds[feed] = day
        self._clocks |= {name: day for name, _ in self._answering(feed)}

    def _answering(self, feed: str) -> list[tuple[str, Clock]]:
        return [(name, clock) for name, clock in self._problem.clocks.items() if feed in clock.feeds]


def _wanted(clocks: Sequence[Clock], day: int) -> bool:
    return any(day in clock.wanted for clock in clocks)
