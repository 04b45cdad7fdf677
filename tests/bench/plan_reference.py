"""A planning problem given to CP-SAT (OR-Tools), for optima and bounds of another make.

OR-Tools is an optional dependency of the benchmark and the reference tests: `pip install ortools`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from ortools.sat.python import cp_model

from schedules.planning.problem.types import Clock, Problem, Slot, TankProblem

Prices = Mapping[tuple[int, str], float]
"""Of a minute, by day and round."""

_SCALE = 10_000  # CP-SAT counts in whole numbers; costs are rounded to a ten-thousandth
_SHARES = 10**9
_CHURN_WEEK = 7  # days; a change to these costs more than one to the days after


@dataclass(frozen=True, slots=True)
class Solved:
    """The best plan found, its cost, the proven bound, and whether the two meet.

    The cost is infinite where no plan was found in the time given.
    """

    slots: tuple[Slot, ...]
    cost: float
    bound: float
    optimal: bool


def solve(
    problem: Problem,
    seconds: float,
    workers: int = 1,
    minute_prices: Prices | None = None,
    hint: Collection[Slot] = (),
) -> Solved:
    """Solve a problem; with `minute_prices` these are paid instead of the longest round."""
    room = _Room(problem)
    for name, tank in sorted(problem.tanks.items()):
        _Tank(room, name, tank).state()
    room.pay_minutes(minute_prices)
    room.pay_churn()
    room.model.minimize(cp_model.LinearExpr.sum(room.cost) if room.cost else 0)
    if hint:
        for slot, x in room.served.items():
            room.model.add_hint(x, slot in hint)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    status = solver.solve(room.model)
    bound = solver.best_objective_bound / _SCALE
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Solved((), float("inf"), bound, optimal=False)
    slots = tuple(sorted(slot for slot, x in room.served.items() if solver.value(x)))
    return Solved(slots, solver.objective_value / _SCALE, bound, status == cp_model.OPTIMAL)


def changes(problem: Problem) -> Iterator[tuple[Slot, float, bool]]:
    """Every serving that can differ from the posted days: the cost of a change, and whether it was posted."""
    end = min(problem.posted_days, problem.days)
    posted = {slot for slot in problem.posted if 0 <= slot.day < end}
    able = {
        Slot(day, name, feed_id)
        for name, tank in problem.tanks.items()
        for feed_id, feed in tank.feeds.items()
        for day in feed.open
        if day < end
    }
    for slot in sorted(posted | able):
        yield slot, 2.0 if slot.day < _CHURN_WEEK else 0.5, slot in posted


class _Room:
    """What the tanks of a problem share: the servings, the costs, the minutes."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        self.cost: list[cp_model.LinearExprT] = []
        self.served: dict[Slot, cp_model.IntVar] = {}

    def pay_minutes(self, prices: Prices | None) -> None:
        rounds: dict[tuple[int, str], list[cp_model.LinearExprT]] = defaultdict(list)
        for slot, x in self.served.items():
            feed = self.problem.tanks[slot.tank].feeds[slot.feed]
            price = 1.0 if prices is None else prices[slot.day, feed.round]
            rounds[slot.day, feed.round].append(round(feed.minutes * price * _SCALE) * x)
        if prices is not None:
            self.cost += [minutes for found in rounds.values() for minutes in found]
            return
        longest = self.model.new_int_var(0, 10**12, "longest")
        for found in rounds.values():
            self.model.add(longest >= cp_model.LinearExpr.sum(found))
        self.cost.append(30 * longest)

    def pay_churn(self) -> None:
        for slot, cost, posted in changes(self.problem):
            x = self.served.get(slot, 0)
            self.cost.append(round(cost * _SCALE) * ((1 - x) if posted else x))


class _Tank:
    """States the rules of one tank."""

    def __init__(self, room: _Room, name: str, tank: TankProblem) -> None:
        self.model, self.cost, self.tank = room.model, room.cost, tank
        self.days, self.weekday = room.problem.days, room.problem.start.weekday()
        self.x: dict[tuple[int, str], cp_model.IntVar] = {}
        for feed_id, feed in sorted(tank.feeds.items()):
            for day in feed.open:
                x = self.model.new_bool_var(f"{name} {feed_id} {day}")
                self.x[day, feed_id] = room.served[Slot(day, name, feed_id)] = x

    def state(self) -> None:
        for feed_id, feed in sorted(self.tank.feeds.items()):
            self._gap((feed_id,), feed.min_gap, feed.last)
        for _, clock in sorted(self.tank.clocks.items()):
            self._gap(clock.feeds, clock.min_gap, None if clock.last is None else clock.last.day)
            self._overdue(clock)
            self._weekly(clock)
            if clock.rotate:
                self._turns(clock)
        self._days()

    def _servings(self, feeds: Collection[str], first: int, last: int) -> list[cp_model.IntVar]:
        days = range(max(0, first), min(last, self.days - 1) + 1)
        return [x for day in days for feed_id in feeds if (x := self.x.get((day, feed_id))) is not None]

    def _gap(self, feeds: Collection[str], min_gap: int, last: int | None) -> None:
        """At most one serving of these feeds in any `min_gap` days; none too soon after the ledger's last."""
        if min_gap == 0:
            return
        for day in range(self.days):
            self.model.add_at_most_one(self._servings(feeds, day, day + min_gap - 1))
        if last is not None:
            for x in self._servings(feeds, 0, last + min_gap - 1):
                self.model.add(x == 0)

    def _overdue(self, clock: Clock) -> None:
        if clock.max_gap is None or clock.overdue is None:
            return
        began = 0
        for day in clock.wanted:
            if day == 0 and clock.wanted_since is not None:
                began = clock.wanted_since
            elif day - 1 not in clock.wanted:
                began = day
            known = began - 1 if clock.last is None else max(began - 1, clock.last.day)
            if day - known < clock.max_gap:
                continue
            late = self.model.new_bool_var("")
            self.model.add_bool_or([late, *self._servings(clock.feeds, day - clock.max_gap + 1, day)])
            self.cost.append(round(clock.overdue * _SCALE) * late)

    def _answered(self, clock: Clock, day: int) -> cp_model.LinearExprT:
        """Whether a clock is answered on a day, for costs that rise with too few and with too many such days."""
        servings = self._servings(clock.feeds, day, day)
        if len(servings) < 2 or clock.min_gap:
            return cp_model.LinearExpr.sum(servings) if servings else 0
        answered = self.model.new_bool_var("")
        self.model.add_max_equality(answered, servings)
        return answered

    def _weekly(self, clock: Clock) -> None:
        if clock.per_week is None:
            return
        for sunday in range(6 - self.weekday, self.days, 7):
            wanted = [day for day in clock.wanted if sunday - 6 <= day <= sunday]
            days = [self._answered(clock, day) for day in wanted]
            earlier_days, earlier_wanted = (clock.earlier_days, clock.earlier_wanted) if sunday < 7 else (0, 0)
            target = clock.per_week * (len(wanted) + earlier_wanted) / 7
            off = self.model.new_int_var(0, 1000 * _SCALE, "")
            over = _SCALE * cp_model.LinearExpr.sum([earlier_days, *days]) - round(target * _SCALE)
            self.model.add(off >= over)
            self.model.add(off >= -over)
            self.cost.append(10 * off)

    def _turns(self, clock: Clock) -> None:
        """Serving by serving, in order of day and feed id: which feed came last, and whether it comes again."""
        last: dict[str, cp_model.IntVar] = {}
        if clock.last is not None and clock.last.feed in clock.feeds:
            last[clock.last.feed] = self.model.new_constant(1)
        for day, feed_id in sorted(place for place in self.x if place[1] in clock.feeds):
            x = self.x[day, feed_id]
            if feed_id in last and any((day, other) in self.x for other in clock.feeds if other != feed_id):
                repeat = self.model.new_bool_var("")
                self.model.add_bool_or([repeat, x.negated(), last[feed_id].negated()])
                self.cost.append(20 * _SCALE * repeat)
            for other, before in list(last.items()):
                last[other] = self.model.new_bool_var("")
                stays = [before.negated(), *([] if other == feed_id else [x])]
                self.model.add_bool_or([last[other], *stays])
            last.setdefault(feed_id, x)
            self.model.add_implication(x, last[feed_id])

    def _days(self) -> None:
        tables: dict[tuple[int, str], list[cp_model.LinearExprT]] = defaultdict(list)
        for (day, feed_id), x in self.x.items():
            feed = self.tank.feeds[feed_id]
            tables[day, feed.table].append(round(feed.share * _SHARES) * x)
            if feed.kind in ("biofilm", "powder") and day in self.tank.adults:
                drawing = [other for other, one in self.tank.feeds.items() if one.draws]
                alone = self.model.new_bool_var("")
                self.model.add_bool_or([alone, x.negated(), *self._servings(drawing, day, day)])
                self.cost.append(5 * _SCALE * alone)
        for shares in tables.values():
            self.model.add(cp_model.LinearExpr.sum(shares) <= _SHARES + len(shares))
