"""A feed that was never given and has been wanted for longer than its longest gap is in debt from the first day on."""

from __future__ import annotations

from datetime import date

import pytest

from schedules.plan.planner import plan, quick
from schedules.problem.types import Problem, TankFeed, TankProblem


def one_feed(max_gap: int, wanted_since: int) -> Problem:
    every = tuple(range(28))
    feed = TankFeed("mineral", None, "morning", 3, max_gap, 0.2, 0.7, 0.4, every, wanted_since, every, None, 0, 0)
    return Problem(date(2026, 11, 23), 28, {"t": TankProblem((), {}, {"f": feed})}, ())


@pytest.mark.parametrize("max_gap", [9, 27, 28, 29, 30, 37, 60, 90])
@pytest.mark.parametrize("beyond", [0, 1, 200])
def test_it_is_given_on_the_first_day_whatever_its_gap_is_beside_the_horizon(max_gap: int, beyond: int) -> None:
    problem = one_feed(max_gap, -max_gap - beyond)

    for made in (plan(problem), quick(problem)):
        assert made.slots[0].day == 0
        assert made.cost.overdue == 0


@pytest.mark.parametrize("left", [1, 2, 5])
def test_it_is_given_before_its_clock_runs_out(left: int) -> None:
    made = plan(one_feed(37, left - 37))

    assert made.cost.overdue == 0
    assert made.slots[0].day <= left
