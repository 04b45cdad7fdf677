"""The cost of a plan: everything the rules count, weights applied.

Where the rules leave room, this is the reading, the same here and in `schedules.checker`:

- a plan was posted where `posted` is not empty; then days 0 to 6 that lie in the plan are compared;
- two servings of one group on one day (a group gap of 0) follow each other in the order of their feeds' ids;
- a feed is "open that day" by its `open` days alone, whether or not its gap would let it be given.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping

from schedules.plan.types import Cost
from schedules.problem.calendar import clock_starts, given_before, week_target, weeks
from schedules.problem.types import Problem, Slot, TankFeed, TankProblem
from schedules.room.kinds import ACCOMPANIED, is_fine
from schedules.rules import CHURN_DAYS, WEIGHTS

Days = Mapping[str, list[int]]
"""For each feed of one tank the days on which it is served, ascending."""


def cost(problem: Problem, slots: Iterable[Slot]) -> Cost:
    """What a plan costs. The slots need not keep the hard rules, but name tanks and feeds of the problem."""
    ordered = sorted(slots)
    by_tank: dict[str, dict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
    for slot in ordered:
        by_tank[slot.tank][slot.feed].append(slot.day)
    counted = [_Counted(problem, tank, by_tank[name]) for name, tank in problem.tanks.items()]
    return Cost(
        overdue=WEIGHTS.overdue * sum(tank.overdue() for tank in counted),
        unaccompanied=WEIGHTS.unaccompanied * sum(tank.unaccompanied() for tank in counted),
        weekly=WEIGHTS.weekly * math.fsum(off for tank in counted for off in tank.weekly()),
        repeat=WEIGHTS.repeat * sum(tank.repeats() for tank in counted),
        longest_round=WEIGHTS.longest_round * longest_round(problem, ordered),
        churn=WEIGHTS.churn * _churn(problem, ordered),
    )


def round_minutes(problem: Problem, slots: Iterable[Slot]) -> dict[tuple[int, str], float]:
    """The handling minutes of each round in which something is given, by (day, round)."""
    minutes: dict[tuple[int, str], list[float]] = defaultdict(list)
    for slot in slots:
        feed = problem.tanks[slot.tank].feeds[slot.feed]
        minutes[slot.day, feed.round].append(feed.minutes)
    return {key: math.fsum(found) for key, found in minutes.items()}


def longest_round(problem: Problem, slots: Iterable[Slot]) -> float:
    """The handling minutes of the longest round, 0 for an empty plan."""
    return max(round_minutes(problem, slots).values(), default=0.0)


def overdue_days(feed: TankFeed, days: int, served: Iterable[int]) -> list[int]:
    """The wanted days on which a feed is overdue, given the days on which it is served."""
    starts = clock_starts(feed, days)
    serving = set(served)
    last = feed.last
    overdue: list[int] = []
    for day in range(days):
        if day in serving:
            last = day
        start = starts[day]
        if start is None:
            continue
        since = start if last is None else max(start, last)
        if day - since >= feed.max_gap:
            overdue.append(day)
    return overdue


def overdue_by_tank(problem: Problem, slots: Iterable[Slot]) -> dict[str, dict[str, int]]:
    """Overdue days by tank and feed, where there are any."""
    served: dict[tuple[str, str], list[int]] = defaultdict(list)
    for slot in slots:
        served[slot.tank, slot.feed].append(slot.day)
    found: dict[str, dict[str, int]] = {}
    for name, tank in problem.tanks.items():
        feeds = {
            feed: len(late)
            for feed, task in tank.feeds.items()
            if (late := overdue_days(task, problem.days, served[name, feed]))
        }
        if feeds:
            found[name] = feeds
    return found


class _Counted:
    """The counts of one tank."""

    def __init__(self, problem: Problem, tank: TankProblem, served: Days) -> None:
        self.days = problem.days
        self.weeks = weeks(problem.start.weekday(), problem.days)
        self.tank = tank
        self.served = served

    def overdue(self) -> int:
        return sum(
            len(overdue_days(feed, self.days, self.served.get(name, ()))) for name, feed in self.tank.feeds.items()
        )

    def unaccompanied(self) -> int:
        feeds = self.tank.feeds
        drawn = {day for name, days in self.served.items() if not is_fine(feeds[name].kind) for day in days}
        alone = set(self.tank.adults) - drawn
        return sum(
            1 for name, days in self.served.items() if feeds[name].kind in ACCOMPANIED for day in days if day in alone
        )

    def weekly(self) -> Iterable[float]:
        for name, feed in self.tank.feeds.items():
            days = self.served.get(name, ())
            for week in self.weeks:
                if week.whole:
                    given = given_before(feed, week) + sum(1 for day in days if week.first <= day <= week.last)
                    yield abs(given - week_target(feed, week))

    def repeats(self) -> int:
        count = 0
        for group, task in self.tank.groups.items():
            members = [name for name, feed in self.tank.feeds.items() if feed.group == group]
            before = task.last.feed if task.last else None
            served = sorted((day, name) for name in members for day in self.served.get(name, ()))
            for day, name in served:
                if name == before and any(day in self.tank.feeds[other].open for other in members if other != name):
                    count += 1
                before = name
        return count


def _churn(problem: Problem, slots: Iterable[Slot]) -> int:
    """How many servings of the first days differ from the posted plan, 0 where none was posted."""
    if not problem.posted:
        return 0
    end = min(CHURN_DAYS, problem.days)
    planned = {slot for slot in slots if slot.day < end}
    return len(planned ^ {slot for slot in problem.posted if slot.day < end})
