"""The same planning problem once more, as flows from serving to serving, given to HiGHS: optima of single tanks.

Each feed is a flow that starts with the ledger, goes from serving to serving and ends with the plan; every step carries
the days that are overdue on it and the weeks that it closes. The sets of feeds that fit a day are listed, and what a
rotation group gave last is a flow too. Written so, the relaxation is near the truth, and a tank of eight feeds that
keeps CP-SAT busy for minutes is solved in a second or two. It takes one feed of a group a day at most.

HiGHS comes with OR-Tools, an optional dependency of the benchmark and the reference tests: `pip install ortools`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta
from typing import TypeAlias

from ortools.math_opt.python import mathopt

from schedules.problem.types import GroupTask, Problem, Slot, TankFeed, TankProblem
from schedules.room.kinds import ACCOMPANIED, is_fine
from tests.bench.plan_reference import Solved

Linear: TypeAlias = float | mathopt.LinearBase
_GAP = 1e-5  # part of the cost; HiGHS stops when plan and bound are this near


def solve(problem: Problem, seconds: float, minute_prices: Mapping[tuple[int, str], float] | None = None) -> Solved:
    """Solve a problem; with `minute_prices` by (day, round) instead of the longest round.

    ValueError for a rotation group that may give twice on one day.
    """
    model = _Model(problem)
    for name, tank in sorted(problem.tanks.items()):
        _Tank(model, problem, name, tank).state()
    model.pay_minutes(minute_prices)
    model.pay_churn()
    parameters = mathopt.SolveParameters(time_limit=timedelta(seconds=seconds), relative_gap_tolerance=_GAP)
    model.minimize()
    result = mathopt.solve(model.model, mathopt.SolverType.HIGHS, params=parameters)
    found = result.termination
    optimal = found.reason == mathopt.TerminationReason.OPTIMAL
    if not result.has_primal_feasible_solution():
        return Solved((), float("inf"), found.objective_bounds.dual_bound, optimal=False)
    values = result.variable_values()
    slots = tuple(sorted(slot for slot, given in model.given.items() if values[given] > 0.5))
    return Solved(slots, found.objective_bounds.primal_bound, found.objective_bounds.dual_bound, optimal)


class _Model:
    """What the tanks of a problem share: the servings, the costs, the minutes."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model = mathopt.Model()
        self.cost: list[Linear] = []
        self.given: dict[Slot, mathopt.Variable] = {}

    def part(self) -> mathopt.Variable:
        """A variable that whole servings force to be 0 or 1."""
        return self.model.add_variable(lb=0.0, ub=1.0)

    def equal(self, left: Sequence[mathopt.Variable], right: Linear) -> None:
        self.model.add_linear_constraint(mathopt.fast_sum(left) == right)

    def pay_minutes(self, prices: Mapping[tuple[int, str], float] | None) -> None:
        rounds: dict[tuple[int, str], list[Linear]] = defaultdict(list)
        for slot, given in self.given.items():
            feed = self.problem.tanks[slot.tank].feeds[slot.feed]
            rounds[slot.day, feed.round].append(feed.minutes * given)
        if prices is not None:
            self.cost += [prices[place] * mathopt.fast_sum(minutes) for place, minutes in rounds.items()]
            return
        longest = self.model.add_variable(lb=0.0)
        for minutes in rounds.values():
            self.model.add_linear_constraint(mathopt.fast_sum(minutes) <= longest)
        self.cost.append(30 * longest)

    def pay_churn(self) -> None:
        if not self.problem.posted:
            return
        end = min(7, self.problem.days)
        posted = {slot for slot in self.problem.posted if slot.day < end}
        self.cost += [
            2 * ((1 - given) if slot in posted else given) for slot, given in self.given.items() if slot.day < end
        ]
        self.cost.append(2.0 * len(posted - set(self.given)))

    def minimize(self) -> None:
        self.model.minimize(mathopt.fast_sum(self.cost))


class _Tank:
    """States the rules of one tank."""

    def __init__(self, model: _Model, problem: Problem, name: str, tank: TankProblem) -> None:
        self.model, self.problem, self.tank = model, problem, tank
        self.given: dict[tuple[str, int], mathopt.Variable] = {}
        for feed_id, feed in sorted(tank.feeds.items()):
            for day in feed.open:
                self.given[feed_id, day] = model.model.add_binary_variable()
                model.given[Slot(day, name, feed_id)] = self.given[feed_id, day]

    def state(self) -> None:
        for feed_id, feed in sorted(self.tank.feeds.items()):
            self._servings(feed_id, feed)
        for group_id, group in sorted(self.tank.groups.items()):
            if group.min_gap < 1:
                raise ValueError(f"group {group_id} may give twice on one day")
            self._gap(group_id, group)
            self._memory(group_id, group)
        self._sets()

    def _servings(self, feed_id: str, feed: TankFeed) -> None:
        """The flow of one feed, from (day, how many this week) to the next; None is before the first serving."""
        clock = _Clock(self.problem, feed)
        into: dict[tuple[int, int], list[mathopt.Variable]] = defaultdict(list)
        ends: list[mathopt.Variable] = []
        for place in clock.places():
            ways = []
            for after, cost in clock.steps(place):
                way = self.model.part()
                self.model.cost.append(cost * way)
                ways.append(way)
                (ends if after is None else into[after]).append(way)
            if place is None:
                self.model.equal(ways, 1.0)
            else:
                self.model.equal(ways, mathopt.fast_sum(into[place]))
        for day in feed.open:
            here = [way for (on, _), ways in into.items() if on == day for way in ways]
            self.model.equal(here, self.given[feed_id, day])

    def _members(self, group_id: str) -> list[str]:
        return [feed_id for feed_id, feed in sorted(self.tank.feeds.items()) if feed.group == group_id]

    def _gap(self, group_id: str, group: GroupTask) -> None:
        for day in range(self.problem.days):
            near = [
                self.given[feed_id, other]
                for feed_id in self._members(group_id)
                for other in range(day, day + group.min_gap)
                if (feed_id, other) in self.given
            ]
            forbidden = group.last is not None and day - group.last.day < group.min_gap
            here = [self.given[feed_id, day] for feed_id in self._members(group_id) if (feed_id, day) in self.given]
            self.model.model.add_linear_constraint(mathopt.fast_sum(near) <= 1.0)
            if forbidden:
                self.model.equal(here, 0.0)

    def _memory(self, group_id: str, group: GroupTask) -> None:
        """What the group gave last, from day to day."""
        members = self._members(group_id)
        last = group.last.feed if group.last is not None and group.last.feed in members else None
        held: dict[str | None, Linear] = {last: 1.0}
        for day in range(self.problem.days):
            able = [feed_id for feed_id in members if (feed_id, day) in self.given]
            after: dict[str | None, list[mathopt.Variable]] = defaultdict(list)
            taken: dict[str, list[mathopt.Variable]] = defaultdict(list)
            for before, amount in held.items():
                stays = self.model.part()
                after[before].append(stays)
                ways = [stays]
                for feed_id in able:
                    way = self.model.part()
                    ways.append(way)
                    after[feed_id].append(way)
                    taken[feed_id].append(way)
                    if feed_id == before and len(able) > 1:
                        self.model.cost.append(20.0 * way)
                self.model.equal(ways, amount)
            for feed_id in able:
                self.model.equal(taken[feed_id], self.given[feed_id, day])
            held = {feed: mathopt.fast_sum(ways) for feed, ways in after.items()}

    def _sets(self) -> None:
        """The sets of feeds that fit each day, of which one is taken, with the powders that go without company."""
        feeds = self.tank.feeds
        for day in range(self.problem.days):
            able = [feed_id for feed_id in sorted(feeds) if (feed_id, day) in self.given]
            sets = list(self._fitting(able, 1.0))
            taken = [self.model.part() for _ in sets]
            self.model.equal(taken, 1.0)
            for feed_id in able:
                holding = [way for way, fits in zip(taken, sets, strict=True) if feed_id in fits]
                self.model.equal(holding, self.given[feed_id, day])
            if day not in self.tank.adults:
                continue
            for way, fits in zip(taken, sets, strict=True):
                if all(is_fine(feeds[feed_id].kind) for feed_id in fits):
                    self.model.cost.append(5.0 * sum(feeds[feed_id].kind in ACCOMPANIED for feed_id in fits) * way)

    def _fitting(self, able: list[str], room: float) -> Iterator[tuple[str, ...]]:
        yield ()
        for number, feed_id in enumerate(able):
            feed = self.tank.feeds[feed_id]
            if feed.share > room + 1e-9:
                continue
            rest = [one for one in able[number + 1 :] if feed.group is None or self.tank.feeds[one].group != feed.group]
            for more in self._fitting(rest, room - feed.share):
                yield (feed_id, *more)


Place = tuple[int, int]
"""A serving: its day and the how-manieth it is in its calendar week."""


class _Clock:
    """One feed's way through the plan: the steps from a serving to the next and what each costs."""

    def __init__(self, problem: Problem, feed: TankFeed) -> None:
        self.days, self.feed, self.weekday = problem.days, feed, problem.start.weekday()
        self.starts: dict[int, int] = {}
        began = feed.wanted_since if feed.wanted_since is not None else 0
        for day in feed.wanted:
            if day > 0 and day - 1 not in self.starts:
                began = day
            self.starts[day] = began - 1
        self._numbers: dict[int, set[int]] = {day: set() for day in feed.open}

    def places(self) -> Iterator[Place | None]:
        """Before the first serving (None), then every serving that `steps` has led to, by day."""
        yield None
        for day in self.feed.open:
            yield from ((day, number) for number in sorted(self._numbers[day]))

    def steps(self, place: Place | None) -> Iterator[tuple[Place | None, float]]:
        """Where the flow may go from a place, None for the end of the plan, and the cost of getting there."""
        last, week, number = self._from(place)
        for day in self.feed.open:
            if (place is None or day > place[0]) and (last is None or day - last >= self.feed.min_gap):
                after = (day, number + 1 if self._week(day) == week else 1)
                self._numbers[day].add(after[1])
                yield after, self._late(last, day) + self._closed(week, number, self._week(day))
        yield None, self._late(last, self.days) + self._closed(week, number, self._week(self.days - 1) + 1)

    def _from(self, place: Place | None) -> tuple[int | None, int, int]:
        if place is None:
            return self.feed.last, 0, self.feed.given_this_week
        return place[0], self._week(place[0]), place[1]

    def _week(self, day: int) -> int:
        return (self.weekday + day) // 7

    def _late(self, last: int | None, until: int) -> float:
        """The overdue days after a serving (or after none) up to the day before the next."""
        first = 0 if last is None else max(0, last + 1)
        since = ((day, start if last is None else max(start, last)) for day, start in self.starts.items())
        return 200.0 * sum(day - start >= self.feed.max_gap for day, start in since if first <= day < until)

    def _closed(self, week: int, number: int, until: int) -> float:
        """The distance from their targets of a week with so many servings and of those after it without any."""
        return self._off(week, number, until) + sum(self._off(later, 0, until) for later in range(week + 1, until))

    def _off(self, week: int, number: int, until: int) -> float:
        if week >= until or 7 * week + 6 - self.weekday >= self.days:
            return 0.0
        wanted = sum(self._week(day) == week for day in self.feed.wanted)
        wanted += self.feed.wanted_this_week if week == 0 else 0
        return 10.0 * abs(number - self.feed.per_week * wanted / 7)
