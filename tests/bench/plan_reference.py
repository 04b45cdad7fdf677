"""The same planning problem given to CP-SAT (OR-Tools), for optima and bounds of another make.

OR-Tools is an optional dependency of the benchmark and the reference tests: `pip install ortools`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ortools.sat.python import cp_model

from schedules.problem.types import Problem, Slot, TankProblem
from schedules.room.kinds import ACCOMPANIED, is_fine

_SCALE = 10_000  # CP-SAT counts in whole numbers; costs are rounded to a ten-thousandth


@dataclass(frozen=True, slots=True)
class Solved:
    """The best plan found, its cost, the proven bound, and whether the two meet."""

    slots: tuple[Slot, ...]
    cost: float
    bound: float
    optimal: bool


def solve(
    problem: Problem,
    seconds: float,
    workers: int = 1,
    minute_prices: Mapping[tuple[int, str], float] | None = None,
    hint: tuple[Slot, ...] = (),
) -> Solved:
    """Solve a problem; with `minute_prices` by (day, round) instead of the longest round."""
    model = cp_model.CpModel()
    cost: list[cp_model.LinearExprT] = []
    loads: dict[tuple[int, str], list[cp_model.LinearExprT]] = {}
    servings: dict[Slot, cp_model.IntVar] = {}
    for name, tank in sorted(problem.tanks.items()):
        _Tank(model, problem, name, tank, cost, servings).state()
        for feed_id, feed in sorted(tank.feeds.items()):
            for day in feed.open:
                x = servings[Slot(day, name, feed_id)]
                loads.setdefault((day, feed.round), []).append(round(feed.minutes * _SCALE) * x)
                if minute_prices is not None:
                    cost.append(round(feed.minutes * minute_prices[day, feed.round] * _SCALE) * x)
    if minute_prices is None:
        longest = model.new_int_var(0, sum(10**9 for _ in loads) + 1, "longest")
        for minutes in loads.values():
            model.add(longest >= cp_model.LinearExpr.sum(minutes))
        cost.append(30 * longest)
    if problem.posted:
        end = min(7, problem.days)
        posted = {slot for slot in problem.posted if slot.day < end}
        for slot, x in servings.items():
            if slot.day < end:
                cost.append(2 * _SCALE * ((1 - x) if slot in posted else x))
        cost.append(2 * _SCALE * len(posted - set(servings)))
    model.minimize(cp_model.LinearExpr.sum(cost) if cost else 0)
    for slot, x in servings.items():
        if hint:
            model.add_hint(x, slot in set(hint))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Solved((), float("inf"), solver.best_objective_bound / _SCALE, False)
    slots = tuple(sorted(slot for slot, x in servings.items() if solver.value(x)))
    return Solved(
        slots, solver.objective_value / _SCALE, solver.best_objective_bound / _SCALE, status == cp_model.OPTIMAL
    )


class _Tank:
    """States the rules of one tank."""

    def __init__(
        self,
        model: cp_model.CpModel,
        problem: Problem,
        name: str,
        tank: TankProblem,
        cost: list[cp_model.LinearExprT],
        servings: dict[Slot, cp_model.IntVar],
    ) -> None:
        self.model, self.problem, self.name, self.tank, self.cost = model, problem, name, tank, cost
        self.x: dict[tuple[str, int], cp_model.IntVar] = {}
        for feed_id, feed in sorted(tank.feeds.items()):
            for day in feed.open:
                x = model.new_bool_var(f"{name} {feed_id} {day}")
                self.x[feed_id, day] = servings[Slot(day, name, feed_id)] = x

    def given(self, feed_id: str, first: int, last: int) -> list[cp_model.IntVar]:
        return [x for day in range(first, last + 1) if (x := self.x.get((feed_id, day))) is not None]

    def state(self) -> None:
        for feed_id in sorted(self.tank.feeds):
            self._feed_gap(feed_id)
            self._overdue(feed_id)
            self._weekly(feed_id)
        for group_id in sorted(self.tank.groups):
            self._group(group_id)
        self._days()

    def _feed_gap(self, feed_id: str) -> None:
        feed = self.tank.feeds[feed_id]
        for day in range(self.problem.days):
            self.model.add_at_most_one(self.given(feed_id, day, day + feed.min_gap - 1))
            if feed.last is not None and day - feed.last < feed.min_gap:
                self.model.add_bool_and([x.negated() for x in self.given(feed_id, day, day)])

    def _overdue(self, feed_id: str) -> None:
        feed = self.tank.feeds[feed_id]
        began = 0
        for day in feed.wanted:
            if day == 0:
                began = feed.wanted_since if feed.wanted_since is not None else 0
            elif day - 1 not in feed.wanted:
                began = day
            if day - (began - 1) < feed.max_gap or (feed.last is not None and day - feed.last < feed.max_gap):
                continue
            late = self.model.new_bool_var("")
            self.model.add_bool_or([late, *self.given(feed_id, max(0, day - feed.max_gap + 1), day)])
            self.cost.append(200 * _SCALE * late)

    def _weekly(self, feed_id: str) -> None:
        feed, weekday = self.tank.feeds[feed_id], self.problem.start.weekday()
        for sunday in range(self.problem.days):
            if (weekday + sunday) % 7 != 6:
                continue
            wanted = sum(sunday - 6 <= day <= sunday for day in feed.wanted)
            given: list[cp_model.LinearExprT] = list(self.given(feed_id, sunday - 6, sunday))
            if sunday <= 6:
                wanted += feed.wanted_this_week
                given.append(feed.given_this_week)
            off = self.model.new_int_var(0, 100 * _SCALE, "")
            over = _SCALE * cp_model.LinearExpr.sum(given) - round(feed.per_week * wanted * _SCALE / 7)
            self.model.add(off >= over)
            self.model.add(off >= -over)
            self.cost.append(10 * off)

    def _group(self, group_id: str) -> None:
        group = self.tank.groups[group_id]
        members = [feed_id for feed_id, feed in sorted(self.tank.feeds.items()) if feed.group == group_id]
        last = group.last
        for day in range(self.problem.days):
            window = [x for feed_id in members for x in self.given(feed_id, day, day + group.min_gap - 1)]
            if group.min_gap > 0:
                self.model.add_at_most_one(window)
            today = [x for feed_id in members for x in self.given(feed_id, day, day)]
            if last is not None and day - last.day < group.min_gap:
                self.model.add_bool_and([x.negated() for x in today])
        for feed_id in members:
            others = {day for other in members if other != feed_id for day in self.tank.feeds[other].open}
            for day in self.tank.feeds[feed_id].open:
                if day in others:
                    self._repeat(feed_id, day, members, last is not None and last.feed == feed_id)

    def _repeat(self, feed_id: str, day: int, members: list[str], ledger: bool) -> None:
        repeat = self.model.new_bool_var("")
        x = self.x[feed_id, day]
        for before in range(-1, day):
            first = self.x.get((feed_id, before))
            if (before >= 0 and first is None) or (before < 0 and not ledger):
                continue
            between = [y for other in members for y in self.given(other, before + 1, day - 1)]
            self.model.add_bool_or([repeat, x.negated(), *([first.negated()] if first is not None else []), *between])
        self.cost.append(20 * _SCALE * repeat)

    def _days(self) -> None:
        feeds = self.tank.feeds
        for day in range(self.problem.days):
            today = {feed_id: x for feed_id in feeds if (x := self.x.get((feed_id, day))) is not None}
            shares = [round(feeds[feed_id].share * _SCALE) * x for feed_id, x in today.items()]
            self.model.add(cp_model.LinearExpr.sum(shares) <= _SCALE)
            if day not in self.tank.adults:
                continue
            solid = [x for feed_id, x in today.items() if not is_fine(feeds[feed_id].kind)]
            for feed_id, x in today.items():
                if feeds[feed_id].kind in ACCOMPANIED:
                    alone = self.model.new_bool_var("")
                    self.model.add_bool_or([alone, x.negated(), *solid])
                    self.cost.append(5 * _SCALE * alone)
