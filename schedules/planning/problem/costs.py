"""What a plan costs: everything the rules count, weights applied.

Where the rules leave room, this is the reading: two servings of one clock on one day (a gap of 0) follow each other in
the order of their feeds' ids; a feed is "open that day" by its `open` days alone, whether or not its gap would let it
be given.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from schedules.planning.problem.calendar import run_starts, week_targets
from schedules.planning.problem.types import Clock, Cost, Problem, Slot, TankProblem
from schedules.planning.problem.weights import CHURN_DAYS, WEIGHTS
from schedules.room.kinds import ACCOMPANIED

Served = Mapping[str, Sequence[int]]
"""For each feed of one tank the days on which it is served, ascending."""


def cost(problem: Problem, slots: Iterable[Slot]) -> Cost:
    """What a plan costs. The slots need not keep the hard rules, but name tanks and feeds of the problem."""
    ordered = sorted(slots)
    served = served_by_tank(ordered)
    tanks = [(tank, served.get(name, {})) for name, tank in problem.tanks.items()]
    clocks = [(tank, clock, days) for tank, days in tanks for clock in tank.clocks.values()]
    early, late = churn(problem, ordered)
    return Cost(
        overdue=math.fsum(
            (clock.overdue or 0.0) * len(overdue_days(clock, problem.days, answered_days(clock, days)))
            for _, clock, days in clocks
            if clock.max_gap is not None
        ),
        unaccompanied=WEIGHTS.unaccompanied * sum(unaccompanied(tank, days) for tank, days in tanks),
        weekly=WEIGHTS.weekly * math.fsum(off for _, clock, days in clocks for off in off_target(problem, clock, days)),
        repeat=WEIGHTS.repeat * sum(len(repeats(tank, clock, days)) for tank, clock, days in clocks),
        longest_round=WEIGHTS.longest_round * longest_round(problem, ordered),
        churn=WEIGHTS.churn * early,
        late_churn=WEIGHTS.late_churn * late,
    )


def served_by_tank(slots: Iterable[Slot]) -> dict[str, dict[str, list[int]]]:
    """The days served by tank and feed; the slots come in order of days."""
    found: dict[str, dict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
    for day, tank, feed in slots:
        found[tank][feed].append(day)
    return found


def answered_days(clock: Clock, served: Served) -> list[int]:
    """The days on which any feed of a clock is served, ascending."""
    return sorted({day for feed in clock.feeds for day in served.get(feed, ())})


def overdue_days(clock: Clock, days: int, answered: Iterable[int]) -> list[int]:
    """The wanted days on which a clock is overdue; none where it has no longest gap."""
    if clock.max_gap is None:
        return []
    serving, last = set(answered), clock.last.day if clock.last else None
    found: list[int] = []
    for day, start in enumerate(run_starts(clock, days)):
        if day in serving:
            last = day
        if start is not None:
            since = start - 1 if last is None else max(last, start - 1)
            if day - since >= clock.max_gap:
                found.append(day)
    return found


def unaccompanied(tank: TankProblem, served: Served) -> int:
    """How many biofilm or powder servings fall on days with adults and without a feed that draws them."""
    drawn = {day for feed, days in served.items() if tank.feeds[feed].draws for day in days}
    alone = set(tank.adults) - drawn
    fine = (days for feed, days in served.items() if tank.feeds[feed].kind in ACCOMPANIED)
    return sum(day in alone for days in fine for day in days)


def off_target(problem: Problem, clock: Clock, served: Served) -> Iterator[float]:
    """For each whole week by how many days a clock misses its target, 0 where it does not."""
    answered = sorted(set(answered_days(clock, served)).intersection(clock.wanted))
    for week, earlier, target in week_targets(clock, problem):
        yield abs(earlier + week.count(answered) - target)


def repeats(tank: TankProblem, clock: Clock, served: Served) -> list[tuple[int, str]]:
    """The servings (day, feed) that repeat the clock's serving before, while another of its feeds was open."""
    if not clock.rotate:
        return []
    before = clock.last.feed if clock.last else None
    found = []
    for day, feed in sorted((day, name) for name in clock.feeds for day in served.get(name, ())):
        if feed == before and any(day in tank.feeds[other].open for other in clock.feeds if other != feed):
            found.append((day, feed))
        before = feed
    return found


def round_minutes(problem: Problem, slots: Iterable[Slot]) -> dict[tuple[int, str], float]:
    """The handling minutes of each round in which something is given, by (day, round)."""
    minutes: dict[tuple[int, str], list[float]] = defaultdict(list)
    for day, tank, feed in slots:
        found = problem.tanks[tank].feeds[feed]
        minutes[day, found.round].append(found.minutes)
    return {key: math.fsum(found) for key, found in minutes.items()}


def longest_round(problem: Problem, slots: Iterable[Slot]) -> float:
    """The handling minutes of the longest round, 0 for an empty plan."""
    return max(round_minutes(problem, slots).values(), default=0.0)


def churn(problem: Problem, slots: Iterable[Slot]) -> tuple[int, int]:
    """How many servings differ from the posted plan: on days 0 to 6, and later; only days that were posted count."""
    planned = {slot for slot in slots if slot.day < problem.posted_days}
    changed = planned ^ {slot for slot in problem.posted if slot.day < min(problem.posted_days, problem.days)}
    early = sum(slot.day < CHURN_DAYS for slot in changed)
    return early, len(changed) - early
