"""A plan at once: day by day, the feeds whose single-feed regrets add up to the least.

Legal by construction and near enough to start a day with; `schedules.plan.planner` makes it good.
"""

from __future__ import annotations

from collections import defaultdict

from schedules.kinds import ACCOMPANIED, is_fine
from schedules.plan.feed_alone import FeedAlone, feed_alone
from schedules.problem.calendar import weeks
from schedules.problem.types import Problem, Slot, TankProblem
from schedules.rules import CHURN_DAYS, FULL_DAY, SHARE_TOLERANCE, WEIGHTS

Loads = dict[tuple[int, str], float]
"""Handling minutes given so far, by (day, round)."""

_STEEPNESS = 1.5  # how much dearer a minute gets in a round that is longer than the average round


def quick_slots(problem: Problem) -> list[Slot]:
    """A legal plan in the order (day, tank, feed), made in one walk through tanks and days."""
    loads: Loads = defaultdict(float)
    slots: list[Slot] = []
    for tank in sorted(problem.tanks):
        slots.extend(_TankWalk(problem, tank, loads).slots())
    return sorted(slots)


class _TankWalk:
    """The walk through the days of one tank."""

    def __init__(self, problem: Problem, name: str, loads: Loads) -> None:
        self.name = name
        self.tank: TankProblem = problem.tanks[name]
        self.days = problem.days
        self.loads = loads
        self.average = sum(loads.values()) / problem.days
        self.price = WEIGHTS.longest_round / problem.days
        weekday = problem.start.weekday()
        self.mondays = {week.first for week in weeks(weekday, problem.days)}
        self.feeds = sorted(self.tank.feeds)
        self.alone: dict[str, FeedAlone] = {
            feed: feed_alone(self.tank.feeds[feed], weekday, problem.days, self.price) for feed in self.feeds
        }
        self.last: dict[str, int | None] = {feed: self.tank.feeds[feed].last for feed in self.feeds}
        self.count = dict.fromkeys(self.feeds, 0)
        self.posted = {(slot.day, slot.feed) for slot in problem.posted if slot.tank == name}
        self.replan = bool(problem.posted)
        self.group_free: dict[str, int] = {}
        self.group_last: dict[str, str | None] = {}
        for group, task in self.tank.groups.items():
            lasts = [day for feed in self.tank.feeds.values() if feed.group == group and (day := feed.last) is not None]
            if task.last is not None:
                lasts.append(task.last.day)
            self.group_free[group] = max(lasts) + max(task.min_gap, 1) if lasts else 0
            self.group_last[group] = task.last.feed if task.last else None

    def slots(self) -> list[Slot]:
        """The servings of this tank; its minutes are added to the loads."""
        adults = set(self.tank.adults)
        found: list[Slot] = []
        for day in range(self.days):
            if day in self.mondays:
                self.count = dict.fromkeys(self.feeds, 0)
            gains = self._gains(day)
            chosen = _best_set(self.tank, gains, day in adults) if gains else []
            for feed in chosen:
                found.append(Slot(day, self.name, feed))
                self._give(day, feed)
        return found

    def _give(self, day: int, feed: str) -> None:
        task = self.tank.feeds[feed]
        self.last[feed] = day
        self.count[feed] += 1
        self.loads[day, task.round] += task.minutes
        if task.group in self.group_free:
            self.group_free[task.group] = day + max(self.tank.groups[task.group].min_gap, 1)
            self.group_last[task.group] = feed

    def _gains(self, day: int) -> list[tuple[float, str]]:
        """What serving each feed that may be served on a day costs against not serving it, least first."""
        gains = []
        for feed in self.feeds:
            alone = self.alone[feed]
            regret = alone.regrets[day]
            if not regret.open:
                continue
            task, last = self.tank.feeds[feed], self.last[feed]
            if last is not None and day - last < task.min_gap:
                continue
            age = alone.oldest if last is None else min(day - last, alone.oldest)
            gain = regret.gain[min(self.count[feed], alone.most)][age - 1]
            if task.group in self.group_free:
                if day < self.group_free[task.group]:
                    continue
                if feed == self.group_last[task.group] and self._another_open(day, feed, task.group):
                    gain += WEIGHTS.repeat
            if self.replan and day < CHURN_DAYS:
                gain += -WEIGHTS.churn if (day, feed) in self.posted else WEIGHTS.churn
            gains.append((gain + self._crowding(day, task.round) * task.minutes, feed))
        return sorted(gains)

    def _another_open(self, day: int, feed: str, group: str | None) -> bool:
        return any(
            self.tank.feeds[other].group == group and other != feed and self.alone[other].regrets[day].open
            for other in self.feeds
        )

    def _crowding(self, day: int, on_round: str) -> float:
        """What a minute costs in this round beyond the common price: more where the round is long already."""
        if not self.average:
            return 0.0
        return _STEEPNESS * self.price * (self.loads[day, on_round] / self.average - 1)


def _best_set(tank: TankProblem, gains: list[tuple[float, str]], adults: bool) -> list[str]:
    """The set of feeds that fits one day and gains most; `gains` is sorted, least cost first."""
    best: tuple[float, list[str]] = (0.0, [])

    def extend(first: int, chosen: list[str], gain: float, share: float, groups: frozenset[str]) -> None:
        nonlocal best
        alone = 0
        if adults and chosen and all(is_fine(tank.feeds[feed].kind) for feed in chosen):
            alone = sum(tank.feeds[feed].kind in ACCOMPANIED for feed in chosen)
        total = gain + WEIGHTS.unaccompanied * alone
        if total < best[0]:
            best = (total, list(chosen))
        for place in range(first, len(gains)):
            more, feed = gains[place]
            task = tank.feeds[feed]
            # What a solid feed saves by drawing the adults is at most this.
            if gain + more >= best[0] + 3 * WEIGHTS.unaccompanied:
                break
            if share + task.share > FULL_DAY + SHARE_TOLERANCE or task.group in groups:
                continue
            held = groups if task.group is None else groups | {task.group}
            extend(place + 1, [*chosen, feed], gain + more, share + task.share, held)

    extend(0, [], 0.0, 0.0, frozenset())
    return best[1]
