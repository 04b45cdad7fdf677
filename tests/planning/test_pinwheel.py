"""Pinwheel scheduling: a tank that takes one serving a day, need i to be met in every window of its period.

The guarantee for densities up to 5/6: Kawamura, "Proof of the Density Threshold Conjecture for Pinwheel Scheduling",
STOC 2024 (arXiv:2606.27104). Instances with the sources named beside them; those marked "computed" come from a complete
search of the state graph, published nowhere. A need is a clock whose longest gap is the period; a share of 1 leaves
room for one serving a day.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from schedules.planning import checker
from schedules.planning.problem.types import Problem
from schedules.planning.search import plan
from tests.bench.plan_document import document, document_of_plan

from .problems import a_clock, a_feed, a_problem, slots

DAYS = 90
SCHEDULABLE = [
    (2, 4, 4),  # kurims.kyoto-u.ac.jp/~kawamura/pinwheel
    (4, 5, 5, 7, 7),  # the same
    (3, 4, 5, 8),  # README of a7kawamura/pinwheel_solver
    (3, 4, 5, 16, 19),  # the same, by dominating (3, 4, 5, 8)
    (3, 4, 8, 13, 20, 20),  # kurims
    (2, 3),  # density 5/6 (the threshold)
    (3, 3, 7, 7),  # two distinct periods, density at most 1: Kawamura 2024
    (2, 4, 8, 8),  # from here on computed
    (2, 6, 6, 6),
    (5, 5, 5, 5, 5),
    (2, 4, 5),
    (2, 4, 6),
    (2, 5, 5),
    (3, 5, 5, 5),
    (3, 4, 6, 6),
    (4, 5, 6, 7, 8),
    (5, 6, 7, 8, 9, 10),
]
IMPOSSIBLE = [
    (2, 3, 6),  # Fishburn & Lagarias 2002, doi:10.1007/s00453-002-0938-9: (2, 3, m) never, m >= 6
    (2, 3, 12),  # the same
    (2, 3, 50),  # the same: a density of 0.853 is no guarantee
    (3, 4, 4, 5),  # density above 1
    (3, 4, 5, 6),  # from here on computed
    (3, 4, 5, 7),
    (3, 4, 4, 6),
    (2, 5, 5, 10),
]
SPARSE = [(2, 3), (3, 4, 4), (2, 6, 6), (3, 3, 6), (4, 5, 6, 8), (3, 5, 7, 9), (4, 6, 7, 8, 9), (6, 7, 8, 9, 10, 11)]


def pinwheel(periods: tuple[int, ...]) -> Problem:
    names = [f"feed{number}" for number in range(len(periods))]
    return a_problem(
        {name: a_feed(DAYS, share=1.0) for name in names},
        {
            f"need{name}": a_clock(name, days=DAYS, max_gap=period, overdue=200)
            for name, period in zip(names, periods, strict=True)
        },
        DAYS,
    )


def named(periods: tuple[int, ...]) -> str:
    return "-".join(map(str, periods))


@pytest.mark.parametrize("periods", SPARSE, ids=named)
def test_a_density_of_five_sixths_or_less_is_planned_over_90_days_with_nothing_overdue(
    periods: tuple[int, ...],
) -> None:
    assert sum(Fraction(1, period) for period in periods) <= Fraction(5, 6)
    assert plan(pinwheel(periods)).cost.overdue == 0


@pytest.mark.parametrize("periods", SCHEDULABLE, ids=named)
def test_a_schedulable_instance_needs_no_overdue_day(periods: tuple[int, ...]) -> None:
    problem = pinwheel(periods)
    made = plan(problem)
    assert made.cost.overdue == 0
    assert checker.check(document_of_plan(problem, made)) == []


@pytest.mark.parametrize("periods", IMPOSSIBLE, ids=named)
def test_an_impossible_instance_leaves_days_overdue(periods: tuple[int, ...]) -> None:
    assert plan(pinwheel(periods)).cost.overdue > 0


@pytest.mark.parametrize(
    ("order", "lawful"),
    [
        ((1, 2, 4, 1, 3, 2, 1, 3, 4, 2, 3, 4), False),  # a slide copy's cycle for (3, 4, 5, 8): gaps of 6 (computed)
        ((1, 4, 2, 1, 3, 1, 2, 3), True),  # "3 8 4 3 5 3 4 5", README of a7kawamura/pinwheel_solver
    ],
    ids=["misprinted", "published"],
)
def test_the_published_cycle_holds_and_its_misprinted_copy_does_not(order: tuple[int, ...], lawful: bool) -> None:
    problem = pinwheel((3, 4, 5, 8))
    given = slots(*((day, f"feed{order[day % len(order)] - 1}") for day in range(problem.days)))
    read = document(problem, given)
    assert checker.broken_rules(read) == []
    assert (checker.costs(read)["overdue"] == 0) is lawful
