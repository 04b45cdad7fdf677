"""Invented rooms for the planner's benchmark and tests: seeded, of any size, ordinary or tight.

The clocks are the default ones of the planning rules. Everything else (who lives where, how long a serving takes) is
invented.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import NamedTuple

from schedules.planning.problem.types import Clock, LastAnswer, PlanFeed, Problem, Slot, Table, TankProblem
from schedules.room.kinds import KINDS, Kind, Stage
from tests.bench.plan_defaults import CLOCK_OF_KIND, CLOCK_ROWS, KIND_NUMBERS, Living, Span

MONDAY = date(2026, 11, 23)
_LONG = 90  # days back that a past may reach


class Products(NamedTuple):
    """How many products of a kind a room has, at least and at most."""

    least: int
    most: int


def invented_room(
    tanks: int,
    seed: int,
    tight: bool,
    days: int = 28,
    start: date | None = None,
    products: Products | None = None,
    posted: bool = False,
) -> Problem:
    """A room of `tanks` tanks with its own stock of feeds; the weekday it starts on goes with the seed unless given.

    Tight rooms feed more often in longer rests: the rounds of one weekday are left out, every tank rests on a day, and
    gaps are a day stricter. Without `products` a kind has up to three, and now and then none. With `posted` a random
    plan was posted, lawful or not.
    """
    rng = random.Random(f"form 2 {tanks} {seed} {tight}")
    start = start or MONDAY + timedelta(days=rng.randrange(7))
    stock = _stock(rng, products)
    room = _Room(rng, tight, days, start, stock, _days_off(rng, tight, days, start), bool(products and products.least))
    problem = Problem(start, days, {f"t{number:04}": room.tank() for number in range(tanks)})
    return _posted(rng, problem) if posted else problem


def next_day(problem: Problem, slots: Iterable[Slot]) -> Problem:
    """The same room a day later: day 0 was given as planned, and the whole plan was posted.

    The new last day is like the day before it, and open where the day a week before was.
    """
    slots = tuple(slots)
    given: dict[str, set[str]] = {name: set() for name in problem.tanks}
    for slot in slots:
        if slot.day == 0:
            given[slot.tank].add(slot.feed)
    monday = (problem.start + timedelta(days=1)).weekday() == 0
    return Problem(
        problem.start + timedelta(days=1),
        problem.days,
        {name: _tank_next_day(tank, given[name], problem.days, monday) for name, tank in problem.tanks.items()},
        tuple(Slot(slot.day - 1, slot.tank, slot.feed) for slot in slots if slot.day > 0),
        problem.days - 1,
    )


def a_day_on(slots: Iterable[Slot]) -> tuple[Slot, ...]:
    """What a plan says of the days after its first, numbered from the next day."""
    return tuple(Slot(slot.day - 1, slot.tank, slot.feed) for slot in slots if slot.day > 0)


def alone(problem: Problem, name: str) -> Problem:
    """The problem of one tank by itself, with what was posted for it."""
    posted = tuple(slot for slot in problem.posted if slot.tank == name)
    return replace(problem, tanks={name: problem.tanks[name]}, posted=posted)


def _stock(rng: random.Random, products: Products | None) -> dict[str, Kind]:
    found: dict[str, Kind] = {}
    for kind in KINDS:
        count = rng.choices((0, 1, 2, 3), (1, 5, 3, 1))[0] if products is None else rng.randint(*products)
        found |= {f"{kind}{number}": kind for number in range(count)}
    return found or {"staple0": "staple"}


def _days_off(rng: random.Random, tight: bool, days: int, start: date) -> set[int]:
    if tight:
        off = rng.randrange(7)
        return {day for day in range(days) if (start + timedelta(days=day)).weekday() == off}
    return {rng.randrange(days)} if rng.random() < 0.3 else set()


@dataclass(frozen=True, slots=True)
class _Room:
    rng: random.Random
    tight: bool
    days: int
    start: date
    stock: Mapping[str, Kind]
    off: set[int]
    every_kind: bool

    def tank(self) -> TankProblem:
        rng, living = self.rng, self._living()
        stock = self._kept()
        rest = rng.randrange(7) if self.tight or rng.random() < 0.4 else None
        gaps = _gaps(set(stock.values()), self.tight, rng)
        members = {
            clock: tuple(sorted(name for name, kind in stock.items() if kind in row.kinds))
            for clock, row in CLOCK_ROWS.items()
        }
        wanted = {
            clock: {day for day in range(-_LONG, self.days) if living.wants(clock, day)}
            for clock in CLOCK_ROWS
            if members[clock]
        }
        wanted = {clock: on for clock, on in wanted.items() if any(day >= 0 for day in on)}
        feeds = {}
        for name, kind in sorted(stock.items()):
            on = {day for clock, days in wanted.items() if name in members[clock] for day in days}
            if any(day >= 0 for day in on):
                feeds[name] = self._feed(kind, on, rest)
        clocks = {clock: self._clock(clock, members[clock], on, gaps, feeds) for clock, on in wanted.items()}
        if rng.random() < 0.15:
            feeds["leaf"], clocks["leaf"] = self._extra(rest)
        adults = tuple(day for day in range(self.days) if living.has("adult", day))
        return TankProblem(adults, clocks, feeds)

    def _kept(self) -> Mapping[str, Kind]:
        """The products that a tank gets: most of them, of each kind at least one where the room must have some."""
        kept = {name: kind for name, kind in self.stock.items() if self.rng.random() < 0.9} or dict(self.stock)
        if self.every_kind:
            kept |= {name: kind for name, kind in self.stock.items() if kind not in kept.values()}
        return kept

    def _living(self) -> Living:
        rng, end, always = self.rng, self.days, (-_LONG, self.days)
        hatch: int | None = None
        stages: dict[Stage, Span]
        kind = rng.choices(("colony", "nursery", "expecting", "growing", "display"), (4, 2, 2, 1, 1))[0]
        if kind == "nursery":
            hatch = rng.randint(-13, 3)
            stages = {"shrimplet": (hatch, end), "juvenile": (hatch + 30, end)}
        elif kind == "expecting":
            hatch = rng.randint(0, end)
            stages = {"adult": always, "juvenile": always, "shrimplet": (hatch, end)}
        elif kind == "growing":
            stages = {"juvenile": always, "shrimplet": (-40, rng.randint(0, end))}
        elif kind == "display":
            stages = {"adult": always}
        else:
            stages = {"adult": always, "juvenile": always, "shrimplet": (-rng.randint(20, _LONG), end)}
        if rng.random() < 0.2:
            stages["filter_feeder"] = always
        if rng.random() < 0.05:
            stages = {"filter_feeder": (rng.randint(-5, 5), end)}
        return Living(stages, hatch, rng.random() < 0.3)

    def _open(self, wanted: Iterable[int], table: Table, rest: int | None) -> tuple[int, ...]:
        even_on_days_off = self.rng.random() < 0.1
        return tuple(
            day
            for day in sorted(wanted)
            if day >= 0
            and (even_on_days_off or day not in self.off)
            and (table != "ground" or (self.start + timedelta(days=day)).weekday() != rest)
        )

    def _feed(self, kind: Kind, wanted: Iterable[int], rest: int | None) -> PlanFeed:
        rng, numbers = self.rng, KIND_NUMBERS[kind]
        since = -len([day for day in wanted if day < 0])
        last: int | None = -rng.randint(1, numbers.usual_gap + (2 if rng.random() < 0.1 else 0))
        if rng.random() < 0.05:
            last = -rng.randint(20, 60)
        if rng.random() < 0.1 or since > (last or 0):
            last = None
        return PlanFeed(
            kind=kind,
            table=numbers.table,
            round="morning",
            draws=kind in ("staple", "protein"),
            min_gap=rng.choice((1, 2, 3)) if self.tight and kind != "powder" and rng.random() < 0.3 else 1,
            share=numbers.share,
            most=numbers.most,
            minutes=round(numbers.minutes * rng.uniform(0.7, 1.4), 2),
            open=self._open(wanted, numbers.table, rest),
            last=last,
        )

    def _extra(self, rest: int | None) -> tuple[PlanFeed, Clock]:
        """A leaf: an extra outside the ration, with a clock of its own."""
        last = -self.rng.randint(1, 20)
        days = range(self.days)
        feed = PlanFeed("greens", "ground", "morning", False, 7, 0.0, 0.0, 0.3, self._open(days, "ground", rest), last)
        return feed, Clock(("leaf",), 7, 21, None, 50, False, tuple(days), -_LONG, LastAnswer(last, "leaf"))

    def _clock(
        self,
        clock: str,
        members: tuple[str, ...],
        wanted: set[int],
        gaps: Mapping[str, int],
        feeds: Mapping[str, PlanFeed],
    ) -> Clock:
        rng, row = self.rng, CLOCK_ROWS[clock]
        answers = [LastAnswer(day, name) for name in members if (day := feeds[name].last) is not None]
        if rng.random() < 0.05:
            answers.append(LastAnswer(-rng.randint(1, 9), "gone"))
        last: LastAnswer | None = max(answers, default=None)
        this_week = range(-self.start.weekday(), 0)
        earlier = [day for day in this_week if day in wanted]
        served = {answer.day for answer in answers} | {day for day in earlier if rng.random() < (row.per_week or 0) / 7}
        if last is not None:
            served = {day for day in served if day <= last.day}
        since = next((day + 1 for day in range(-1, -_LONG - 1, -1) if day not in wanted), -_LONG)
        return Clock(
            feeds=members,
            min_gap=gaps.get(clock, row.min_gap),
            max_gap=None if row.max_gap is None else max(2, row.max_gap - (self.tight and rng.random() < 0.3)),
            per_week=row.per_week,
            overdue=row.overdue,
            rotate=row.rotate,
            wanted=tuple(sorted(day for day in wanted if day >= 0)),
            wanted_since=since if 0 in wanted else None,
            last=last,
            earlier_days=len(served & set(earlier)) if last is not None else 0,
            earlier_wanted=len(earlier),
        )


def _gaps(kinds: set[Kind], tight: bool, rng: random.Random) -> dict[str, int]:
    """The shortest gaps of the clocks of one kind, where a table's missing kinds have made them fall."""
    found: dict[str, int] = {}
    for table, target in (("fine", 7.0), ("ground", 5.0)):
        here = [clock for clock, kind in CLOCK_OF_KIND.items() if kind in kinds and KIND_NUMBERS[kind].table == table]
        gaps = {clock: CLOCK_ROWS[clock].min_gap + (tight and rng.random() < 0.2) for clock in here}
        while gaps and sum(7 / gap for gap in gaps.values()) < target:
            able = [clock for clock, gap in gaps.items() if gap > 1]
            gaps[min(able, key=lambda clock: (gaps[clock], clock))] -= 1
        found |= gaps
    return found


def _posted(rng: random.Random, problem: Problem) -> Problem:
    days = rng.choice((0, min(7, problem.days), problem.days - 1, problem.days))
    posted = [
        Slot(day, name, feed_id)
        for name, tank in problem.tanks.items()
        for feed_id, feed in tank.feeds.items()
        for day in feed.open
        if day < days and rng.random() < 0.2
    ]
    if days and rng.random() < 0.2:
        posted.append(Slot(0, next(iter(problem.tanks)), "gone"))
    return replace(problem, posted=tuple(sorted(posted)), posted_days=days)


def _tank_next_day(tank: TankProblem, given: set[str], horizon: int, monday: bool) -> TankProblem:
    clocks = {clock_id: _clock_next_day(clock, given, horizon, monday) for clock_id, clock in tank.clocks.items()}
    feeds = {}
    for feed_id, feed in tank.feeds.items():
        wanted = {day for clock in clocks.values() if feed_id in clock.feeds for day in clock.wanted}
        feeds[feed_id] = replace(
            feed,
            open=_shifted(feed.open, horizon, horizon - 7 if horizon > 7 else horizon - 1, wanted),
            last=-1 if feed_id in given else None if feed.last is None else feed.last - 1,
        )
    return TankProblem(_shifted(tank.adults, horizon, horizon - 1), clocks, feeds)


def _clock_next_day(clock: Clock, given: set[str], horizon: int, monday: bool) -> Clock:
    wanted = _shifted(clock.wanted, horizon, horizon - 1)
    began = (
        clock.wanted_since if clock.wanted_since is not None and 0 in clock.wanted else 0 if 0 in clock.wanted else 1
    )
    answered = sorted(given & set(clock.feeds))
    last = clock.last and LastAnswer(clock.last.day - 1, clock.last.feed)
    return replace(
        clock,
        wanted=wanted,
        wanted_since=began - 1 if 0 in wanted else None,
        last=LastAnswer(-1, answered[-1]) if answered else last,
        earlier_days=0 if monday else clock.earlier_days + (bool(answered) and 0 in clock.wanted),
        earlier_wanted=0 if monday else clock.earlier_wanted + (0 in clock.wanted),
    )


def _shifted(days: Sequence[int], horizon: int, model: int, within: set[int] | None = None) -> tuple[int, ...]:
    """Day numbers seen a day later, with a new last day where the model day is one of them."""
    found = [day - 1 for day in days if day > 0]
    if model in days and (within is None or horizon - 1 in within):
        found.append(horizon - 1)
    return tuple(found)
