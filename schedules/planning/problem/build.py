"""From a room and its history to the planning problem of the coming days."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta

from schedules.amounts.ration import piece_rule
from schedules.history import History
from schedules.history.answers import ledger_begin
from schedules.planning.problem.types import Clock, LastAnswer, PlanFeed, Problem, Slot, TankProblem
from schedules.room import ClockRules, Feed, FeedRules, Room, Tank
from schedules.room.days_off import is_day_off
from schedules.room.kinds import KIND_DEFAULTS
from schedules.room.needs import TankClock, clocks_of, feed_spans, stage_spans
from schedules.room.spans import days_within, run_start

AsGiven = frozenset[tuple[date, str, str]]
"""Servings (day, tank, feed) that are due but not marked yet and are taken as given by what follows them."""


def build_problem(room: Room, history: History, start: date, days: int, as_given: AsGiven = frozenset()) -> Problem:
    """The problem of planning `days` days from `start`.

    The ledger's first day bounds what is known: days before it count neither as wanted nor as overdue, so that a room
    that starts to keep a ledger does not begin in debt. Only fine feed and the fans' feed, where none was ever written
    down, are wanted on day 0 already: those who live on them shall not wait for a first meal.
    """
    frame = _Frame(room, history, start, days, as_given)
    tanks = {tank: frame.tank(room.tanks[tank]) for tank in room.walk}
    posted, posted_days = posted_slots(history, start, days, tanks)
    return Problem(start, days, tanks, posted, posted_days)


def posted_slots(
    history: History, start: date, days: int, tanks: Mapping[str, TankProblem]
) -> tuple[tuple[Slot, ...], int]:
    """What the posting in force says of the plan's days, and how many of them it covers.

    Tanks and feeds that the plan no longer knows are left out.
    """
    posting = history.posting(start)
    covered = 0 if posting is None else min(days, max(0, (posting.start - start).days + len(posting.days)))
    if posting is None or covered == 0:
        return (), 0
    slots = tuple(
        Slot(number, due.tank, due.feed)
        for number in range(covered)
        for due in posting.due(start + timedelta(days=number))
        if due.tank in tanks and due.feed in tanks[due.tank].feeds
    )
    return slots, covered


class _Frame:
    """What every tank of one problem shares: the days, the days off, where the ledger begins."""

    def __init__(self, room: Room, history: History, start: date, days: int, as_given: AsGiven) -> None:
        self.room = room
        self.history = history
        self.start = start
        self.last = start + timedelta(days=days - 1)
        self.monday = start - timedelta(days=start.weekday())
        self.begun = min(ledger_begin(history) or start, start, *(day for day, _, _ in as_given))
        self.weekdays = [(start.weekday() + number) % 7 for number in range(days)]
        self.off = {number for number in range(days) if is_day_off(room, start + timedelta(days=number))}
        self.taken: dict[tuple[str, str], set[date]] = {}
        for day, tank, feed in as_given:
            if day < start:
                self.taken.setdefault((tank, feed), set()).add(day)

    def tank(self, tank: Tank) -> TankProblem:
        """One tank's problem; feeds and clocks that no day of the plan wants are left out."""
        clocks = clocks_of(self.room, tank)
        feeds: dict[str, PlanFeed] = {}
        for feed_id in tank.feeds:
            feed = self.room.feeds[feed_id]
            wanted = days_within(feed_spans(tank, clocks, feed), self.start, self.last)
            if wanted:
                feeds[feed_id] = self._feed(tank, feed, wanted)
        adults = days_within(stage_spans(tank, frozenset(("adult",))), self.start, self.last)
        timed = {name: self._clock(tank, name, clock, feeds) for name, clock in clocks.items()}
        return TankProblem(
            adults, {name: clock for name, clock in timed.items() if clock.wanted and clock.feeds}, feeds
        )

    def _feed(self, tank: Tank, feed: Feed, wanted: tuple[int, ...]) -> PlanFeed:
        rules = tank.feeds[feed.id]
        piece = piece_rule(tank, feed, rules, self.start, self.room, self.history)
        last = self._last_day(tank.id, feed.id)
        return PlanFeed(
            kind=feed.kind,
            table=feed.table,
            round=feed.round,
            draws=feed.draws,
            min_gap=piece.min_gap,
            share=piece.share,
            most=max(piece.share, self._most(tank, feed, rules)),
            minutes=rules.minutes,
            open=self._open(wanted, tank, feed, rules),
            last=None if last is None else (last - self.start).days,
        )

    def _most(self, tank: Tank, feed: Feed, rules: FeedRules) -> float:
        """The largest part of a serving; a kind that has its table to itself may take the whole day."""
        usual = rules.most == KIND_DEFAULTS[feed.kind].most and feed.kind != "mineral"
        kinds = {
            other.kind
            for name in tank.feeds
            if (other := self.room.feeds[name]).table == feed.table and not other.extra and other.kind != "mineral"
        }
        return 1.0 if usual and kinds == {feed.kind} else rules.most

    def _open(self, wanted: tuple[int, ...], tank: Tank, feed: Feed, rules: FeedRules) -> tuple[int, ...]:
        rest = tank.rest_weekday if feed.table == "ground" else None
        off: set[int] = set() if rules.even_on_days_off else self.off
        return tuple(day for day in wanted if self.weekdays[day] != rest and day not in off)

    def _clock(self, tank: Tank, name: str, clock: TankClock, feeds: Mapping[str, PlanFeed]) -> Clock:
        wanted = days_within(clock.spans, self.start, self.last)
        since = run_start(clock.spans, self.start)
        answers = self._answers(name, clock)
        last = max(
            ((day, feed) for feed in answers if (day := self._last_day(tank.id, feed)) is not None), default=None
        )
        earlier = self._earlier_days(tank.id, clock, answers)
        return Clock(
            feeds=tuple(feed for feed in clock.feeds if feed in feeds),
            min_gap=clock.rules.min_gap,
            max_gap=clock.rules.max_gap,
            per_week=clock.rules.per_week,
            overdue=clock.rules.overdue,
            rotate=clock.rules.rotate,
            wanted=wanted,
            wanted_since=None if since is None else self._since(since, clock.rules, last),
            last=None if last is None else LastAnswer((last[0] - self.start).days, last[1]),
            earlier_days=earlier[0],
            earlier_wanted=earlier[1],
        )

    def _since(self, run: date, rules: ClockRules, last: tuple[date, str] | None) -> int:
        """The day a run of wanted days counts from; of a first meal at the young's or the fans' table late enough."""
        if last is None and rules.table in ("fine", "fan") and rules.max_gap is not None:
            return max((run - self.start).days, 1 - rules.max_gap)
        return (max(run, self.begun) - self.start).days

    def _answers(self, name: str, clock: TankClock) -> tuple[str, ...]:
        """The feeds whose past servings count: of a clock of the table others of its kinds too."""
        if name not in self.room.clocks:
            return clock.feeds
        kinds = clock.rules.kinds
        return tuple(feed.id for feed in self.room.feeds.values() if feed.kind in kinds and not feed.extra)

    def _earlier_days(self, tank: str, clock: TankClock, answers: Iterable[str]) -> tuple[int, int]:
        """How many wanted days of the week before day 0 were answered, and how many there were."""
        first, last = max(self.monday, self.begun), self.start - timedelta(days=1)
        if last < first:
            return 0, 0
        wanted = {first + timedelta(days=number) for number in days_within(clock.spans, first, last)}
        served = {day for feed in answers for day in self._days_given(tank, feed)}
        return len(wanted & served), len(wanted)

    def _days_given(self, tank: str, feed: str) -> set[date]:
        return {entry.day for entry, _ in self.history.servings(tank, feed)} | self.taken.get((tank, feed), set())

    def _last_day(self, tank: str, feed: str) -> date | None:
        known = self.history.last_day(tank, feed, self.start)
        taken = self.taken.get((tank, feed), set())
        return max((*(() if known is None else (known,)), *taken), default=None)


def with_posted(problem: Problem, posted: Iterable[Slot], days: int) -> Problem:
    """The same problem with other servings posted, of so many of its first days."""
    covered = min(days, problem.days)
    return replace(problem, posted=tuple(slot for slot in posted if slot.day < covered), posted_days=covered)
