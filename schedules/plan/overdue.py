"""Which of a tank's rules stand in the way of a plan without overdue days."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import combinations
from typing import Literal

from schedules.plan.fewest import fewest_overdue
from schedules.problem.types import Problem, TankFeed, TankProblem

Rule = Literal["shares", "group gaps", "closed days", "shortest gaps"]
RULES: tuple[Rule, ...] = ("shares", "group gaps", "closed days", "shortest gaps")

_NARROW = 48


def rules_in_the_way(problem: Problem, tanks: Iterable[str]) -> dict[str, tuple[Rule, ...]]:
    """For each tank the fewest rules without which no day had to be overdue; none where the past alone is to blame.

    Where not even all of them lifted together would do, days are overdue whatever is given: the clock ran out before
    day 0.
    """
    found: dict[str, tuple[Rule, ...]] = {}
    left = list(tanks)
    for count in range(1, len(RULES) + 1):
        for lifted in combinations(RULES, count):
            freed = Problem(
                problem.start, problem.days, {tank: _lifted(problem.tanks[tank], lifted) for tank in left}, ()
            )
            for tank, fewest in fewest_overdue(freed, left, _NARROW).items():
                if fewest.found == 0:
                    found[tank] = lifted
                    left.remove(tank)
            if not left:
                return found
    return found | dict.fromkeys(left, ())


def _lifted(tank: TankProblem, rules: Iterable[Rule]) -> TankProblem:
    for rule in rules:
        tank = _LIFT[rule](tank)
    return tank


def _without_shares(tank: TankProblem) -> TankProblem:
    return _with_feeds(tank, lambda feed: replace(feed, share=min(feed.share, 1 / len(tank.feeds))))


def _without_group_gaps(tank: TankProblem) -> TankProblem:
    return replace(_with_feeds(tank, lambda feed: replace(feed, group=None)), groups={})


def _without_closed_days(tank: TankProblem) -> TankProblem:
    return _with_feeds(tank, lambda feed: replace(feed, open=feed.wanted))


def _without_shortest_gaps(tank: TankProblem) -> TankProblem:
    return _with_feeds(tank, lambda feed: replace(feed, min_gap=1))


def _with_feeds(tank: TankProblem, change: Callable[[TankFeed], TankFeed]) -> TankProblem:
    return replace(tank, feeds={name: change(feed) for name, feed in tank.feeds.items()})


_LIFT: dict[Rule, Callable[[TankProblem], TankProblem]] = {
    "shares": _without_shares,
    "group gaps": _without_group_gaps,
    "closed days": _without_closed_days,
    "shortest gaps": _without_shortest_gaps,
}
