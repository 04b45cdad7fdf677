"""The planner beside a fixed weekly chart, over 90 days of ordinary life: `python -m tests.bench.plan_vs_chart`.

The chart is what keepers write on the wall: for each feed of a tank the weekdays on which it is given, as often as the
weekly target says, spread over the week (dateutil's recurrence rules) and set apart where two do not fit one day. It
does not know what was missed or doubled. The planner plans each morning from what was given.

Life is the same for both: one round in ten is missed, and once a week somebody gives a tank's feed a second time on
the day after it was due. Both pasts are held to the same checker, by what was really given.
"""

from __future__ import annotations

import argparse
import random
import statistics
import sys
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from dateutil.rrule import WEEKLY, rrule

from schedules import checker
from schedules.plan.cost import cost
from schedules.plan.planner import plan
from schedules.plan.types import Plan
from schedules.problem.json import plan_to_json
from schedules.problem.later import later
from schedules.problem.types import Problem, Slot, TankFeed, TankProblem
from schedules.rules import WEIGHTS
from tests.bench.plan_rooms import invented_room

DAYS = 90
HORIZON = 14
MISSED = 0.1
Due = Callable[[int, list[Slot]], list[Slot]]
"""What is due on a day, given everything that was given before it."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What 90 days came to."""

    overdue: int
    doubled: int
    over_ration: int
    longest: float
    spread: float


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--tanks", type=int, default=24)
    parser.add_argument("--seeds", type=int, default=3)
    asked = parser.parse_args()
    sys.stdout.write(
        "| room | by | days overdue | servings under the shortest gap | tank-days over the ration | longest round, min "
        "| spread of rounds (standard deviation), min |\n|---|---|---|---|---|---|---|\n"
    )
    for seed in range(asked.seeds):
        room = invented_room(asked.tanks, seed, tight=seed % 2 == 1, days=DAYS + HORIZON)
        for name, due in (("weekly chart", Chart(room).due), ("Rackround", Planner(room).due)):
            found = lived(room, seed, due)
            sys.stdout.write(
                f"| {asked.tanks} tanks, seed {seed}{', tight' if seed % 2 else ''} | {name} | {found.overdue} "
                f"| {found.doubled} | {found.over_ration} | {found.longest:.1f} | {found.spread:.1f} |\n"
            )
            sys.stdout.flush()


def lived(room: Problem, seed: int, due: Due) -> Outcome:
    """Live 90 days by what is due each morning."""
    life = random.Random(f"life {seed}")
    missed = {day for day in range(DAYS) if life.random() < MISSED}
    doubling = {7 * week + life.randrange(7): life.random() for week in range(DAYS // 7)}
    given: list[Slot] = []
    rounds: list[float] = []
    for day in range(DAYS):
        today = [] if day in missed else due(day, given)
        rounds.append(sum(room.tanks[slot.tank].feeds[slot.feed].minutes for slot in today))
        if day in doubling:
            before = sorted(slot for slot in given if slot.day == day - 1)
            extra = before[int(doubling[day] * len(before))] if before else None
            if extra is not None and not any((slot.tank, slot.feed) == extra[1:] for slot in today):
                today = [*today, Slot(day, extra.tank, extra.feed)]
        given += today
    return _counted(room, given, [minutes for day, minutes in enumerate(rounds) if day not in missed])


def _counted(room: Problem, given: list[Slot], rounds: list[float]) -> Outcome:
    """Both pasts are held to the checker, which shares no code with the planner."""
    lived_through = _shortened(room, DAYS)
    slots = tuple(sorted(given))
    document = plan_to_json(lived_through, Plan(slots, cost(lived_through, slots), None))
    breaches = checker.check(document)
    return Outcome(
        round(checker.costs(document)["overdue"] / WEIGHTS.overdue),
        sum(" after day " in breach and ": group " not in breach for breach in breaches),
        sum(": the shares of day " in breach for breach in breaches),
        max(rounds),
        statistics.pstdev(rounds),
    )


class Planner:
    """Each morning a plan from what was given."""

    def __init__(self, room: Problem) -> None:
        self.room = room
        self.slots: list[Slot] = []

    def due(self, day: int, given: list[Slot]) -> list[Slot]:
        """What the plan of this morning says of today."""
        rest = _shortened(later(self.room, given, day), HORIZON)
        posted = tuple(slot for slot in self.slots if slot.day < 7)
        made = plan(replace(rest, posted=posted), self.slots if day % 7 else ())
        self.slots = [Slot(slot.day - 1, slot.tank, slot.feed) for slot in made.slots if slot.day > 0]
        return [Slot(day, slot.tank, slot.feed) for slot in made.slots if slot.day == 0]


def _shortened(problem: Problem, days: int) -> Problem:
    """The first days of a problem."""

    def head(numbers: tuple[int, ...]) -> tuple[int, ...]:
        return tuple(day for day in numbers if day < days)

    def of_feed(feed: TankFeed) -> TankFeed:
        return replace(feed, wanted=head(feed.wanted), open=head(feed.open))

    def of_tank(tank: TankProblem) -> TankProblem:
        return replace(tank, adults=head(tank.adults), feeds={name: of_feed(feed) for name, feed in tank.feeds.items()})

    return Problem(problem.start, days, {name: of_tank(tank) for name, tank in problem.tanks.items()}, problem.posted)


class Chart:
    """A weekly chart: for each feed the weekdays on which it is given."""

    def __init__(self, room: Problem) -> None:
        self.room = room
        self.start = room.start
        self.days: dict[date, list[tuple[str, str]]] = defaultdict(list)
        for name, tank in room.tanks.items():
            self._write(name, tank)

    def _write(self, name: str, tank: TankProblem) -> None:
        """Spread the feeds over the week, the most frequent first, each where the week has most room."""
        shares = [0.0] * 7
        for feed_id, feed in sorted(tank.feeds.items(), key=lambda item: (-item[1].per_week, item[0])):
            weekdays = _spread(feed, shares, self.start.weekday())
            for weekday in weekdays:
                shares[weekday] += feed.share
            self._recur(name, feed_id, feed, weekdays)

    def _recur(self, name: str, feed_id: str, feed: TankFeed, weekdays: list[int]) -> None:
        wanted = {self.start + timedelta(days=day) for day in feed.open}
        for start in rrule(WEEKLY, byweekday=weekdays, dtstart=datetime.combine(self.start, time()), count=8 * DAYS):
            if start.date() in wanted:
                self.days[start.date()].append((name, feed_id))

    def due(self, day: int, given: list[Slot]) -> list[Slot]:
        """What the chart says, whatever was given."""
        del given
        return [Slot(day, *place) for place in self.days[self.start + timedelta(days=day)]]


def _spread(feed: TankFeed, shares: list[float], first: int) -> list[int]:
    """Weekdays for a feed: as many as its target, rounded, evenly apart, shifted to where most of it fits."""
    count = min(7, max(1, round(feed.per_week)))
    usual = {(first + day) % 7 for day in feed.open} or set(range(7))

    def misfit(shift: int) -> tuple[float, int]:
        days = [(shift + 7 * number // count) % 7 for number in range(count)]
        over = sum(max(0.0, shares[day] + feed.share - 1) + (day not in usual) for day in days)
        return over, shift

    shift = min(range(7), key=misfit)
    return sorted({(shift + 7 * number // count) % 7 for number in range(count)})


if __name__ == "__main__":
    main()
