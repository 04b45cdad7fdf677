"""From a room and its history to the planning problem of the coming days."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from schedules.amounts.ration import planning_rules
from schedules.history import History
from schedules.problem.types import GroupTask, LastOfGroup, Problem, Slot, TankFeed, TankProblem
from schedules.problem.wanted import Span, days_within, run_start, wanted_spans
from schedules.room import Feed, FeedRules, Room, Tank
from schedules.room.days_off import is_day_off
from schedules.room.kinds import Stage
from schedules.rules import CHURN_DAYS

AsGiven = frozenset[tuple[date, str, str]]
"""Servings (day, tank, feed) that are due but not marked yet and are taken as given by what follows them."""


def build_problem(room: Room, history: History, start: date, days: int, as_given: AsGiven = frozenset()) -> Problem:
    """The problem of planning `days` days from `start`.

    The ledger's first day bounds what is known: days before it count neither as wanted nor as overdue, so that a room
    that starts to keep a ledger does not begin in debt.
    """
    frame = _Frame(room, history, start, days, as_given)
    tanks = {tank: frame.tank(room.tanks[tank]) for tank in room.walk}
    return Problem(start, days, tanks, _posted(history, start, days, tanks))


class _Frame:
    """What every tank of one problem shares: the days, the days off, where the ledger begins."""

    def __init__(self, room: Room, history: History, start: date, days: int, as_given: AsGiven) -> None:
        self.room = room
        self.history = history
        self.start = start
        self.last = start + timedelta(days=days - 1)
        self.monday = start - timedelta(days=start.weekday())
        self.begun = min(ledger_begin(history) or start, start)
        self.weekdays = [(start.weekday() + number) % 7 for number in range(days)]
        self.off = {number for number in range(days) if is_day_off(room, start + timedelta(days=number))}
        self.taken: dict[tuple[str, str], date] = {}
        for day, tank, feed in sorted(as_given):
            if day < start:
                self.taken[tank, feed] = day

    def tank(self, tank: Tank) -> TankProblem:
        """One tank's problem; feeds that no day of the plan wants are left out."""
        spans: dict[frozenset[Stage], tuple[Span, ...]] = {}
        feeds: dict[str, TankFeed] = {}
        for feed_id, rules in tank.feeds.items():
            feed = self.room.feeds[feed_id]
            if feed.stages not in spans:
                spans[feed.stages] = wanted_spans(tank.animals, feed.stages)
            planned = planning_rules(tank, feed, rules, self.start, room=self.room, history=self.history)
            task = self._feed(tank, feed, planned, spans[feed.stages])
            if task.wanted:
                feeds[feed_id] = task
        adults = days_within(wanted_spans(tank.animals, frozenset(("adult",))), self.start, self.last)
        return TankProblem(adults, self._groups(tank, feeds), feeds)

    def _feed(self, tank: Tank, feed: Feed, rules: FeedRules, spans: tuple[Span, ...]) -> TankFeed:
        wanted = days_within(spans, self.start, self.last)
        since = run_start(spans, self.start)
        last = self._last_day(tank.id, feed.id)
        week_start = max(self.monday, self.begun)
        yesterday = self.start - timedelta(days=1)
        return TankFeed(
            kind=feed.kind,
            group=feed.group,
            round=feed.round,
            min_gap=rules.min_gap,
            max_gap=rules.max_gap,
            per_week=rules.per_week,
            share=rules.share,
            minutes=rules.minutes,
            wanted=wanted,
            wanted_since=None if since is None else (max(since, self.begun) - self.start).days,
            open=self._open(wanted, tank, feed, rules),
            last=None if last is None else (last - self.start).days,
            given_this_week=self._given_this_week(tank.id, feed.id),
            wanted_this_week=len(days_within(spans, week_start, yesterday)) if week_start <= yesterday else 0,
        )

    def _open(self, wanted: tuple[int, ...], tank: Tank, feed: Feed, rules: FeedRules) -> tuple[int, ...]:
        rest = None if feed.fine else tank.rest_weekday
        off: set[int] = set() if rules.even_on_days_off else self.off
        return tuple(day for day in wanted if self.weekdays[day] != rest and day not in off)

    def _last_day(self, tank: str, feed: str) -> date | None:
        known = self.history.last_day(tank, feed, self.start)
        taken = self.taken.get((tank, feed))
        return max((day for day in (known, taken) if day is not None), default=None)

    def _given_this_week(self, tank: str, feed: str) -> int:
        given = [entry.day for entry, _ in self.history.servings(tank, feed) if self.monday <= entry.day < self.start]
        taken = self.taken.get((tank, feed))
        return len(given) + (taken is not None and taken >= self.monday and taken not in given)

    def _groups(self, tank: Tank, feeds: Mapping[str, TankFeed]) -> dict[str, GroupTask]:
        """The rotation groups of a tank's feeds; the last serving counts also where its feed is not wanted any more."""
        groups: dict[str, GroupTask] = {}
        for group in sorted({task.group for task in feeds.values() if task.group is not None}):
            members = [feed.id for feed in self.room.feeds.values() if feed.group == group]
            days = [(day, feed) for feed in members if (day := self._last_day(tank.id, feed)) is not None]
            last = max(days, key=lambda found: found[0], default=None)
            groups[group] = GroupTask(
                self.room.group_gaps[group],
                None if last is None else LastOfGroup((last[0] - self.start).days, last[1]),
            )
        return groups


def ledger_begin(history: History) -> date | None:
    """The first day the ledger knows of: its first serving or the first posting within the history."""
    first_served = min(history.first_ever.values(), default=None)
    first_posted = min((posting.start for posting in history.postings), default=None)
    return min((day for day in (first_served, first_posted) if day is not None), default=None)


def _posted(history: History, start: date, days: int, tanks: Mapping[str, TankProblem]) -> tuple[Slot, ...]:
    """What the posting in force says of the plan's first days, as far as the room still knows the tank and the feed."""
    posting = history.posting(start)
    if posting is None:
        return ()
    return tuple(
        Slot(number, due.tank, due.feed)
        for number in range(min(CHURN_DAYS, days))
        for due in posting.due(start + timedelta(days=number))
        if due.tank in tanks and due.feed in tanks[due.tank].feeds
    )
