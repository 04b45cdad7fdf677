"""Mutated planning problems: each is refused with a path, or planned, and the plan breaks no rule."""

from __future__ import annotations

import json
from collections.abc import Iterator
from random import Random
from typing import Any

from schedules.planning.checker import check
from schedules.planning.problem.json import ProblemFault, plan_to_json, problem_from_json
from schedules.planning.problem.types import Problem
from schedules.planning.search import plan
from tests.fuzz.trees import mutated, text
from tests.planning.problems import MONDAY, a_clock, a_feed, a_problem, slots


def beginning() -> Any:
    """A small problem as JSON that uses every key."""
    feeds = {
        "dust": a_feed(kind="powder", table="fine", draws=False, last=-2),
        "pellet": a_feed(min_gap=2, minutes=0.5),
        "leaf": a_feed(kind="greens", draws=False, share=0.2),
    }
    clocks = {
        "fine": a_clock("dust", max_gap=2, overdue=5.0),
        "ground": a_clock("pellet", "leaf", per_week=3.5, rotate=True, min_gap=1),
    }
    problem: Problem = a_problem(feeds, clocks, adults=(0, 1, 2, 3), posted=slots((0, "dust")), posted_days=1)
    return plan_to_json(problem, plan(problem))


def documents(seed: int) -> Iterator[str]:
    """Mutated documents without end; now and then a text that is cut or has a letter changed."""
    chance, begin = Random(seed), beginning()
    assert begin["start"] == MONDAY.isoformat()
    while True:
        found = text(mutated(chance, begin))
        if chance.random() < 0.1:
            at = chance.randrange(len(found))
            found = found[:at] + chance.choice(("", "\x00", "[" * 2000, '"', "9" * 5000)) + found[at + 1 :]
        yield found


def is_problem(given: str) -> bool:
    """Whether a document can be planned."""
    try:
        problem_from_json(json.loads(given))
    except (ProblemFault, ValueError, RecursionError):
        return False
    return True


def fault_of(given: str) -> str | None:
    """What is wrong with how a document is taken."""
    try:
        document = json.loads(given)
    except (ValueError, RecursionError):
        return None
    try:
        problem = problem_from_json(document)
    except ProblemFault as fault:
        return None if fault.path and fault.found and fault.allowed else f"a fault that says little: {fault!r}"
    made = plan(problem)
    breaches = check(plan_to_json(problem, made))
    return f"the plan breaks a rule: {breaches[0]}" if breaches else None
