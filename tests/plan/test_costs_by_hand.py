"""Each cost counted by hand on a problem small enough to see, by the planner's count and the checker's alike."""

from __future__ import annotations

import pytest

from schedules import checker
from schedules.plan.cost import cost
from schedules.problem.types import GroupTask, LastOfGroup, Problem, Slot

from .problems import WEDNESDAY, a_feed, a_problem, document, slots


def costs(problem: Problem, *given: tuple[int, str]) -> dict[str, float]:
    plan = slots(*given)
    found = checker.costs(document(problem, plan))
    made = cost(problem, plan)
    assert {name: getattr(made, name) for name in found} == pytest.approx(found)
    return found


def test_a_feed_never_given_is_overdue_max_gap_days_after_the_day_before_it_was_first_wanted() -> None:
    # Wanted since day 0, so the clock starts at -1: days 2 to 6 are three and more days after it.
    assert costs(a_problem({"a": a_feed(max_gap=3)}))["overdue"] == 5 * 200


def test_a_serving_on_the_day_itself_keeps_it_from_being_overdue() -> None:
    assert costs(a_problem({"a": a_feed(max_gap=3)}), (2, "a"), (5, "a"))["overdue"] == 0


def test_a_long_absence_is_overdue_from_day_0() -> None:
    feed = a_feed(max_gap=3, last=-30, wanted_since=-100)
    assert costs(a_problem({"a": feed}))["overdue"] == 7 * 200


def test_the_clock_starts_anew_with_a_new_run_of_wanted_days() -> None:
    feed = a_feed(max_gap=3, last=-30, wanted=(0, 1, 4, 5, 6), open=(0, 1, 4, 5, 6), wanted_since=-1)
    # Days 0 and 1 are two and three days after -2; days 4 to 6 are one to three days after 3.
    assert costs(a_problem({"a": feed}))["overdue"] == 2 * 200


def test_a_powder_is_unaccompanied_where_adults_get_no_solid_feed() -> None:
    feeds = {"p": a_feed(kind="powder", share=0.3), "b": a_feed(kind="biofilm", share=0.3), "s": a_feed()}
    problem = a_problem(feeds, adults=(0, 1, 2))
    assert costs(problem, (0, "p"), (0, "b"), (1, "p"), (1, "s"), (3, "p"))["unaccompanied"] == 2 * 5


def test_a_suspension_neither_needs_company_nor_gives_it() -> None:
    feeds = {"p": a_feed(kind="powder", share=0.3), "m": a_feed(kind="suspension", share=0.3)}
    assert costs(a_problem(feeds, adults=(0, 1)), (0, "p"), (0, "m"), (1, "m"))["unaccompanied"] == 5


def test_a_week_is_counted_by_its_distance_from_the_target() -> None:
    problem = a_problem({"a": a_feed(per_week=3)})
    assert costs(problem)["weekly"] == 30
    assert costs(problem, *((day, "a") for day in range(5)))["weekly"] == 20


def test_the_week_of_day_0_counts_its_days_before_day_0() -> None:
    # A Wednesday: five days are left, two of the week are past, one serving was given.
    feed = a_feed(5, per_week=7, given_this_week=1, wanted_this_week=2)
    assert costs(a_problem({"a": feed}, 5, WEDNESDAY), (0, "a"))["weekly"] == pytest.approx(50)


def test_a_week_without_its_sunday_in_the_plan_is_not_counted() -> None:
    assert costs(a_problem({"a": a_feed(6, per_week=7)}, 6))["weekly"] == 0


def test_a_repeat_counts_where_another_feed_of_the_group_is_open() -> None:
    feeds = {"a": a_feed(group="g"), "b": a_feed(group="g", open=(0, 1, 2, 3))}
    problem = a_problem(feeds, groups={"g": GroupTask(2, LastOfGroup(-2, "a"))})
    assert costs(problem, (0, "a"), (2, "b"), (4, "b"), (6, "b"))["repeat"] == 3 * 20
    assert costs(problem, (0, "b"), (4, "a"), (6, "a"))["repeat"] == 0


def test_the_longest_round_is_of_one_round_and_not_of_a_day() -> None:
    feeds = {"a": a_feed(minutes=1.5, share=0.2), "b": a_feed(minutes=1, share=0.2), "c": a_feed(round="evening")}
    assert costs(a_problem(feeds), (0, "a"), (0, "b"), (0, "c"), (1, "c"))["longest_round"] == pytest.approx(75)


def test_churn_counts_what_was_added_and_what_is_gone_in_the_first_seven_days() -> None:
    posted = slots((0, "a"), (2, "a"), (6, "a"))
    problem = a_problem({"a": a_feed(9)}, 9, posted=posted)
    assert costs(problem, (0, "a"), (3, "a"), (6, "a"), (8, "a"))["churn"] == 2 * 2


def test_without_a_posted_plan_there_is_no_churn() -> None:
    assert costs(a_problem({"a": a_feed()}), (0, "a"))["churn"] == 0


def test_a_posted_serving_of_a_tank_that_is_gone_counts_as_gone() -> None:
    assert costs(a_problem({"a": a_feed()}, posted=(Slot(0, "gone", "a"),)))["churn"] == 2
