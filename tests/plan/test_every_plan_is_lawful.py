"""Whatever the problem, a plan keeps every hard rule, its costs are what it says, and its bound holds."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules import checker
from schedules.plan.cost import cost
from schedules.plan.keep import lawful
from schedules.plan.planner import plan, quick, replan_tank
from schedules.plan.types import Plan
from schedules.problem.json import problem_from_json
from schedules.problem.types import Problem, Slot

from .problems import document, problems


def held(problem: Problem, made: Plan) -> None:
    read = document(problem, made.slots)
    assert checker.check(read) == []
    assert made.cost == cost(problem, made.slots)
    assert checker.costs(read) == read["cost"]
    assert made.slots == tuple(sorted(made.slots))
    assert made.bound is None or made.bound <= made.cost.total + 1e-9


@given(problems())
@settings(max_examples=40, deadline=None)
def test_a_plan_made_at_once_keeps_every_hard_rule(problem: Problem) -> None:
    held(problem, quick(problem))


@given(problems(most_days=35))
@settings(max_examples=12, deadline=None)
def test_a_searched_plan_keeps_every_hard_rule(problem: Problem) -> None:
    held(problem, plan(problem))


@given(problems(most_days=30), st.data())
@settings(max_examples=15, deadline=None)
def test_a_plan_carried_on_from_any_earlier_one_keeps_every_hard_rule(problem: Problem, data: st.DataObject) -> None:
    feeds = [(tank, feed) for tank in problem.tanks for feed in problem.tanks[tank].feeds] or [("gone", "gone")]
    days = st.integers(-3, problem.days + 3)
    earlier = data.draw(st.lists(st.tuples(days, st.sampled_from([*feeds, ("gone", "gone")])), max_size=40))
    held(problem, plan(problem, [Slot(day, *place) for day, place in earlier]))


@given(problems(most_days=30), st.data())
@settings(max_examples=15, deadline=None)
def test_one_tank_planned_anew_keeps_every_hard_rule_and_the_other_tanks(problem: Problem, data: st.DataObject) -> None:
    before = quick(problem).slots
    tank = data.draw(st.sampled_from(sorted(problem.tanks)))
    after = replan_tank(problem, before, tank)
    held(problem, Plan(after, cost(problem, after), None))
    assert [slot for slot in after if slot.tank != tank] == [slot for slot in before if slot.tank != tank]


@given(problems(most_days=20), st.data())
@settings(max_examples=50, deadline=None)
def test_what_is_kept_of_any_servings_is_lawful(problem: Problem, data: st.DataObject) -> None:
    feeds = [(tank, feed) for tank in problem.tanks for feed in problem.tanks[tank].feeds]
    places = st.sampled_from(feeds or [("gone", "gone")])
    any_slots = data.draw(st.lists(st.tuples(st.integers(-2, 25), places), max_size=60))
    kept = tuple(lawful(problem, [Slot(day, *place) for day, place in any_slots]))
    assert checker.check(document(problem, kept)) == []


@given(problems())
@settings(max_examples=40, deadline=None)
def test_a_problem_comes_back_from_its_json_unchanged(problem: Problem) -> None:
    assert problem_from_json(document(problem, ())) == problem
