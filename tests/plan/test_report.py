"""What a plan comes to, and which rules fight where a room asks too much."""

from __future__ import annotations

import pytest

from schedules.plan.cost import cost
from schedules.plan.planner import plan
from schedules.plan.report import longest, shortest_possible, summary, too_much
from schedules.plan.types import Plan
from schedules.problem.types import GroupTask, LastOfGroup, Problem
from tests.bench.plan_rooms import invented_room

from .problems import a_feed, a_problem, slots

SHORT_CLOCK = {"max_gap": 2, "per_week": 3}


@pytest.mark.parametrize(
    ("problem", "rules"),
    [
        (a_problem({"a": a_feed(max_gap=1, per_week=7), "b": a_feed(max_gap=1, share=0.6, per_week=7)}), ("shares",)),
        (
            a_problem(
                {"a": a_feed(group="g", **SHORT_CLOCK), "b": a_feed(group="g", **SHORT_CLOCK)},
                groups={"g": GroupTask(2, None)},
            ),
            ("group gaps",),
        ),
        (a_problem({"a": a_feed(max_gap=3, per_week=2, open=(0, 6))}), ("closed days",)),
        (a_problem({"a": a_feed(min_gap=5, max_gap=3, per_week=2)}), ("shortest gaps",)),
        (
            a_problem(
                {"a": a_feed(min_gap=4, max_gap=2, per_week=2, group="g", last=-1)},
                groups={"g": GroupTask(3, LastOfGroup(-1, "a"))},
            ),
            ("group gaps", "shortest gaps"),
        ),
        (a_problem({"a": a_feed(max_gap=1, per_week=7, wanted=(0,), open=(), wanted_since=-9)}), ("closed days",)),
    ],
    ids=["shares", "group gaps", "closed days", "shortest gaps", "two rules", "no open day"],
)
def test_the_rules_that_fight_are_named(problem: Problem, rules: tuple[str, ...]) -> None:
    made = plan(problem)
    [blamed] = too_much(problem, made)
    assert blamed.rules == rules
    assert 0 < blamed.needed <= blamed.overdue == made.cost.overdue / 200


def test_a_plan_with_nothing_overdue_says_so_in_one_line() -> None:
    problem = a_problem({"a": a_feed(per_week=7, max_gap=1, minutes=1.5)})
    made = plan(problem)
    assert (
        summary(problem, made)
        == "longest round 1.5 min on 2026-11-23, at least 1.5 min with all else as good; nothing overdue"
    )


def test_the_longest_round_is_the_first_of_equals() -> None:
    problem = a_problem({"a": a_feed(minutes=2), "b": a_feed(minutes=2, round="evening")})
    given = slots((3, "a"), (3, "b"), (5, "a"))
    assert longest(problem, Plan(given, cost(problem, given), None)) == (2.0, 3, "evening")
    assert longest(problem, Plan((), cost(problem, ()), None)) == (0.0, 0, "")


def test_the_shortest_a_round_could_be_needs_a_bound_and_never_exceeds_what_it_is() -> None:
    problem = invented_room(2, 1, tight=True, days=10)
    made = plan(problem)
    least = shortest_possible(made)
    assert least is not None
    assert 0 <= least <= longest(problem, made)[0] + 1e-9
    assert shortest_possible(Plan(made.slots, made.cost, None)) is None
