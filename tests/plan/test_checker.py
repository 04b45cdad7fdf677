"""The checker finds each way of breaking a hard rule, and nothing else."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from schedules import checker
from schedules.problem.types import GroupTask, LastOfGroup, Problem

from .problems import a_feed, a_problem, document, slots

GROUPS = {"g": GroupTask(3, LastOfGroup(-2, "a"))}
FEEDS = {
    "a": a_feed(group="g", min_gap=4, last=-2),
    "b": a_feed(group="g", min_gap=1),
    "c": a_feed(share=0.6, open=(0, 2, 4, 5)),
}
PROBLEM = a_problem(FEEDS, groups=GROUPS)


def test_a_plan_that_keeps_the_rules_is_not_blamed() -> None:
    assert checker.check(document(PROBLEM, slots((2, "a"), (5, "b"), (0, "c"), (4, "c")))) == []


@pytest.mark.parametrize(
    ("given", "blamed"),
    [
        ([(1, "c")], "a1: c on day 1, which is not open"),
        ([(1, "a")], "a1: a on day 1, 3 after day -2, at least 4"),
        ([(2, "a"), (5, "a")], "a1: a on day 5, 3 after day 2, at least 4"),
        ([(0, "b")], "a1: group g on day 0, 2 after day -2, at least 3"),
        ([(1, "b"), (3, "b")], "a1: group g on day 3, 2 after day 1, at least 3"),
        ([(2, "b"), (2, "c")], "a1: the shares of day 2 add up to 1.1, at most 1"),
    ],
)
def test_a_broken_rule_is_named(given: list[tuple[int, str]], blamed: str) -> None:
    assert checker.check(document(PROBLEM, slots(*given))) == [blamed]


def test_a_serving_given_twice_is_named() -> None:
    twice = document(PROBLEM, slots((0, "c")))
    twice["servings"] *= 2
    assert "a1: c twice on day 0" in checker.check(twice)


def test_a_serving_of_no_tank_and_of_no_feed_is_named() -> None:
    read = document(PROBLEM, slots((0, "c")))
    read["servings"].append({**read["servings"][0], "tank": "b9"})
    read["servings"].append({**read["servings"][0], "feed": "z"})
    assert checker.check(read) == ["a1: z is not a feed of this tank", "b9 is not a tank of this room"]


def test_shares_that_add_up_to_one_by_halves_and_tenths_fit() -> None:
    feeds = {name: a_feed(share=share) for name, share in (("a", 0.1), ("b", 0.2), ("c", 0.7))}
    problem: Problem = a_problem(feeds)
    assert checker.check(document(problem, slots((0, "a"), (0, "b"), (0, "c")))) == []


def test_the_checker_imports_nothing_of_this_program() -> None:
    tree = ast.parse(Path(checker.__file__).read_text(encoding="utf-8"))
    imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    imported |= {name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names}
    assert imported == {"__future__", "math", "datetime", "itertools", "typing"}
