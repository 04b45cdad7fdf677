"""Whatever the problem, a plan keeps every hard rule, costs what it says, and its bound holds."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.planning import checker
from schedules.planning.problem.costs import cost
from schedules.planning.problem.types import Plan, Problem, Slot
from schedules.planning.search import plan, quick
from tests.bench.plan_document import document_of_plan
from tests.bench.plan_rooms import invented_room

from .problems import problems


def held(problem: Problem, made: Plan) -> None:
    assert [breach.text for breach in checker.check(document_of_plan(problem, made))] == []
    assert made.cost == cost(problem, made.slots)
    assert made.slots == tuple(sorted(set(made.slots)))


@given(problems())
@settings(max_examples=30, deadline=None)
def test_a_plan_made_at_once_keeps_every_hard_rule(problem: Problem) -> None:
    held(problem, quick(problem))


@pytest.mark.long
@given(problems(most_days=35))
@settings(max_examples=12, deadline=None)
def test_a_searched_plan_keeps_every_hard_rule(problem: Problem) -> None:
    held(problem, plan(problem))


@pytest.mark.long
@given(problems(most_days=30), st.data())
@settings(max_examples=20, deadline=None)
def test_a_plan_carried_on_from_any_earlier_one_keeps_every_hard_rule(problem: Problem, data: st.DataObject) -> None:
    feeds = [(tank, feed) for tank in problem.tanks for feed in (*problem.tanks[tank].feeds, "gone")]
    days = st.integers(-3, problem.days + 3)
    earlier = data.draw(st.lists(st.tuples(days, st.sampled_from([*feeds, ("gone", "gone")])), max_size=40))
    previous = [Slot(day, *place) for day, place in earlier]
    held(problem, plan(problem, previous))
    held(problem, quick(problem, previous))


@pytest.mark.long
@given(st.integers(1, 4), st.integers(0, 999), st.booleans(), st.integers(1, 40), st.booleans())
@settings(max_examples=12, deadline=None)
def test_invented_rooms_are_planned_lawfully(tanks: int, seed: int, tight: bool, days: int, posted: bool) -> None:
    problem = invented_room(tanks, seed, tight, days, posted=posted)
    held(problem, plan(problem))
