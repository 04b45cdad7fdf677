"""The same planning problem once more, as flows from day to day, given to HiGHS: optima of single tanks.

Each clock is a flow through states (days since it was last answered, days answered this week) that carries the overdue
days and the weeks it closes. The sets of feeds that fit a table on a day are listed, and what a clock with turns was
answered with last is a flow too. Written so, the relaxation is near the truth, and a tank that keeps CP-SAT busy for
minutes is solved in seconds.

HiGHS comes with OR-Tools, an optional dependency of the benchmark and the reference tests: `pip install ortools`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from datetime import timedelta
from typing import NamedTuple, TypeAlias

from ortools.math_opt.python import mathopt

from schedules.planning.problem.types import Clock, Problem, Slot, TankProblem
from tests.bench.plan_reference import Prices, Solved, changes

Linear: TypeAlias = float | mathopt.LinearBase
_GAP = 1e-5  # part of the cost; HiGHS stops when plan and bound are this near
_SUMS = 1e-9


def solve(problem: Problem, seconds: float, minute_prices: Prices | None = None) -> Solved:
    """Solve a problem; with `minute_prices` these are paid instead of the longest round."""
    room = _Room(problem)
    for name, tank in sorted(problem.tanks.items()):
        _Tank(room, name, tank).state()
    room.pay_minutes(minute_prices)
    room.pay_churn()
    room.model.minimize(mathopt.fast_sum(room.cost))
    parameters = mathopt.SolveParameters(time_limit=timedelta(seconds=seconds), relative_gap_tolerance=_GAP)
    result = mathopt.solve(room.model, mathopt.SolverType.HIGHS, params=parameters)
    found = result.termination
    bound = found.objective_bounds.dual_bound
    if not result.has_primal_feasible_solution():
        return Solved((), float("inf"), bound, optimal=False)
    values = result.variable_values()
    slots = tuple(sorted(slot for slot, x in room.served.items() if values[x] > 0.5))
    optimal = found.reason == mathopt.TerminationReason.OPTIMAL
    return Solved(slots, found.objective_bounds.primal_bound, bound, optimal)


class _Room:
    """What the tanks of a problem share: the servings, the costs, the minutes."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model = mathopt.Model()
        self.cost: list[Linear] = []
        self.served: dict[Slot, mathopt.Variable] = {}

    def part(self) -> mathopt.Variable:
        """A variable that whole servings force to be 0 or 1."""
        return self.model.add_variable(lb=0.0, ub=1.0)

    def equal(self, left: Sequence[Linear], right: Linear) -> None:
        # An empty sum would be a plain number.
        self.model.add_linear_constraint(mathopt.fast_sum([*left, mathopt.LinearSum([])]) == right)

    def at_most(self, left: Sequence[Linear], right: Linear) -> None:
        self.model.add_linear_constraint(mathopt.fast_sum([*left, mathopt.LinearSum([])]) <= right)

    def pay_minutes(self, prices: Prices | None) -> None:
        rounds: dict[tuple[int, str], list[Linear]] = defaultdict(list)
        for slot, x in self.served.items():
            feed = self.problem.tanks[slot.tank].feeds[slot.feed]
            rounds[slot.day, feed.round].append(feed.minutes * x)
        if prices is not None:
            self.cost += [prices[place] * mathopt.fast_sum(minutes) for place, minutes in rounds.items()]
            return
        longest = self.model.add_variable(lb=0.0)
        for minutes in rounds.values():
            self.at_most(minutes, longest)
        self.cost.append(30 * longest)

    def pay_churn(self) -> None:
        for slot, cost, posted in changes(self.problem):
            x = self.served.get(slot, 0.0)
            self.cost.append(cost * (1 - x) if posted else cost * x)


class _Set(NamedTuple):
    """Feeds that fit one table on one day, and whether they are what the table gets."""

    feeds: tuple[str, ...]
    taken: mathopt.Variable


class _Tank:
    """States the rules of one tank."""

    def __init__(self, room: _Room, name: str, tank: TankProblem) -> None:
        self.room, self.tank = room, tank
        self.days, self.weekday = room.problem.days, room.problem.start.weekday()
        self.x: dict[tuple[int, str], mathopt.Variable] = {}
        for feed_id, feed in sorted(tank.feeds.items()):
            for day in feed.open:
                x = room.model.add_binary_variable()
                self.x[day, feed_id] = room.served[Slot(day, name, feed_id)] = x

    def state(self) -> None:
        sets = [self._sets(day) for day in range(self.days)]
        for feed_id, feed in sorted(self.tank.feeds.items()):
            self._gap((feed_id,), feed.min_gap, feed.last)
        for _, clock in sorted(self.tank.clocks.items()):
            self._gap(clock.feeds, clock.min_gap, None if clock.last is None else clock.last.day)
            self._pass_time(clock, sets)
            if clock.rotate:
                self._turns(clock)

    def _gap(self, feeds: Collection[str], min_gap: int, last: int | None) -> None:
        for day in range(self.days if min_gap else 0):
            near = [x for (on, feed_id), x in self.x.items() if feed_id in feeds and day <= on < day + min_gap]
            forbidden = last is not None and day - last < min_gap
            self.room.at_most(near, 1.0)
            if forbidden:
                self.room.equal([self.x[day, feed_id] for feed_id in feeds if (day, feed_id) in self.x], 0.0)

    def _sets(self, day: int) -> list[list[_Set]]:
        """For each table the sets of feeds that fit it, of which one is taken; powders without company cost."""
        tables: dict[str, list[str]] = defaultdict(list)
        for feed_id, feed in sorted(self.tank.feeds.items()):
            if (day, feed_id) in self.x:
                tables[feed.table].append(feed_id)
        found = []
        for able in tables.values():
            sets = [_Set(fits, self.room.part()) for fits in self._fitting(able, 1.0)]
            self.room.equal([one.taken for one in sets], 1.0)
            for feed_id in able:
                self.room.equal([one.taken for one in sets if feed_id in one.feeds], self.x[day, feed_id])
            found.append(sets)
        if day in self.tank.adults:
            self._accompany(found)
        return found

    def _accompany(self, tables: list[list[_Set]]) -> None:
        feeds = self.tank.feeds
        drawn = self.room.part()
        drawing = [one.taken for sets in tables for one in sets if any(feeds[feed_id].draws for feed_id in one.feeds)]
        self.room.at_most([drawn], mathopt.fast_sum([*drawing, mathopt.LinearSum([])]))
        for sets in tables:
            accompanied = []
            for one in sets:
                fine = sum(feeds[feed_id].kind in ("biofilm", "powder") for feed_id in one.feeds)
                if fine and not any(feeds[feed_id].draws for feed_id in one.feeds):
                    accompanied.append(self.room.part())
                    self.room.at_most(accompanied[-1:], one.taken)
                    self.room.cost.append(5.0 * fine * (one.taken - accompanied[-1]))
            self.room.at_most(accompanied, drawn)

    def _fitting(self, able: list[str], room: float) -> Iterator[tuple[str, ...]]:
        yield ()
        for number, feed_id in enumerate(able):
            share = self.tank.feeds[feed_id].share
            if share > room + _SUMS:
                continue
            rest = [other for other in able[number + 1 :] if not self._exclude(feed_id, other)]
            for more in self._fitting(rest, room - share):
                yield (feed_id, *more)

    def _exclude(self, one: str, other: str) -> bool:
        """Whether two feeds answer a clock that takes one serving a day at most."""
        return any(clock.min_gap and {one, other} <= set(clock.feeds) for clock in self.tank.clocks.values())

    def _pass_time(self, clock: Clock, sets: list[list[list[_Set]]]) -> None:
        """The flow of one clock through its states, tied to the sets that are taken."""
        if clock.max_gap is None and clock.per_week is None:
            return
        states = _States(clock, self.days, self.weekday)
        held: dict[_State, Linear] = {states.first(): 1.0}
        for day in range(self.days):
            after: dict[_State, list[Linear]] = defaultdict(list)
            answered: list[Linear] = []
            able = any((day, feed_id) in self.x for feed_id in clock.feeds)
            for state, amount in held.items():
                ways = []
                for answers in (False, True) if able and state.age >= clock.min_gap else (False,):
                    way = self.room.part()
                    then, cost = states.step(state, day, answers)
                    after[then].append(way)
                    ways.append(way)
                    answered += [way] if answers else []
                    if cost:
                        self.room.cost.append(cost * way)
                self.room.equal(ways, amount)
            self._tie(clock, answered, sets[day])
            held = {state: mathopt.fast_sum(ways) for state, ways in after.items()}

    def _tie(self, clock: Clock, answered: list[Linear], tables: list[list[_Set]]) -> None:
        """A clock is answered on a day by the sets that hold one of its feeds."""
        by_table = [[one.taken for one in sets if set(one.feeds) & set(clock.feeds)] for sets in tables]
        by_table = [taken for taken in by_table if taken]
        if len(by_table) <= 1:
            self.room.equal(answered, mathopt.fast_sum([*(by_table[0] if by_table else []), mathopt.LinearSum([])]))
            return
        for taken in by_table:
            self.room.at_most(taken, mathopt.fast_sum(answered))
        self.room.at_most(answered, mathopt.fast_sum([way for taken in by_table for way in taken]))

    def _turns(self, clock: Clock) -> None:
        """What the clock was answered with last, from serving to serving in order of day and feed id."""
        last = clock.last.feed if clock.last is not None and clock.last.feed in clock.feeds else None
        held: dict[str | None, Linear] = {last: 1.0}
        for day in range(self.days):
            able = [feed_id for feed_id in sorted(clock.feeds) if (day, feed_id) in self.x]
            # With a gap one of them is served at most; without, one after the other.
            for choice in [able] if clock.min_gap else [[feed_id] for feed_id in able]:
                held = self._turn(held, day, choice, len(able) > 1)

    def _turn(
        self, held: dict[str | None, Linear], day: int, choice: list[str], others: bool
    ) -> dict[str | None, Linear]:
        after: dict[str | None, list[Linear]] = defaultdict(list)
        taken: dict[str, list[Linear]] = defaultdict(list)
        for before, amount in held.items():
            ways = [self.room.part()]
            after[before].append(ways[0])
            for feed_id in choice:
                ways.append(self.room.part())
                after[feed_id].append(ways[-1])
                taken[feed_id].append(ways[-1])
                if feed_id == before and others:
                    self.room.cost.append(20.0 * ways[-1])
            self.room.equal(ways, amount)
        for feed_id in choice:
            self.room.equal(taken[feed_id], self.x[day, feed_id])
        return {feed: mathopt.fast_sum(ways) for feed, ways in after.items()}


class _State(NamedTuple):
    """Of a clock on a day, before anything is served."""

    age: int
    """Days since it was last answered, up to the most that makes a difference."""
    answered: int
    """Wanted days answered this week."""


class _States:
    """How the state of a clock changes from day to day, and what each change costs."""

    def __init__(self, clock: Clock, days: int, weekday: int) -> None:
        self.clock, self.days, self.weekday = clock, days, weekday
        self.oldest = max(clock.min_gap, clock.max_gap or 0, 1)
        self.began: dict[int, int] = {}
        for day in clock.wanted:
            first = clock.wanted_since if day == 0 and clock.wanted_since is not None else day
            self.began[day] = self.began.get(day - 1, first)

    def first(self) -> _State:
        age = self.oldest if self.clock.last is None else min(-self.clock.last.day, self.oldest)
        return _State(age, self.clock.earlier_days if self.clock.per_week is not None else 0)

    def step(self, state: _State, day: int, answers: bool) -> tuple[_State, float]:
        """The state of the next day, and the cost."""
        clock, cost = self.clock, 0.0
        number = state.answered + (answers and clock.per_week is not None and day in self.began)
        if clock.max_gap is not None and day in self.began:
            age = 0 if answers else min(state.age, day - self.began[day] + 1)
            cost += (clock.overdue or 0.0) * (age >= clock.max_gap)
        if (self.weekday + day) % 7 == 6:
            cost += self._closed(day, number)
            number = 0
        return _State(1 if answers else min(state.age + 1, self.oldest), number), cost

    def _closed(self, sunday: int, number: int) -> float:
        if self.clock.per_week is None:
            return 0.0
        wanted = sum(sunday - 6 <= day <= sunday for day in self.clock.wanted)
        wanted += self.clock.earlier_wanted if sunday < 7 else 0
        return 10.0 * abs(number - self.clock.per_week * wanted / 7)
