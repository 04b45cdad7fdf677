"""Each explanation is held to the checker: force the serving, and the named rule breaks or the named cost rises."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from schedules import checker
from schedules.plan.explain import Reason, why, why_not, why_short
from schedules.plan.planner import quick
from schedules.problem.types import GroupTask, LastOfGroup, Problem, Slot

from .problems import a_feed, a_problem, document, problems, slots

BLAMES = {
    "open": "which is not open",
    "min_gap": "after day",
    "group_gap": "group ",
    "shares": "the shares of day",
}


@given(problems(most_tanks=2, most_feeds=4, most_days=12))
@settings(max_examples=15, deadline=None)
def test_forcing_a_serving_breaks_the_named_rule_or_raises_the_named_cost(problem: Problem) -> None:
    made = quick(problem)
    before = checker.costs(document(problem, made.slots))
    for tank in problem.tanks:
        for feed in problem.tanks[tank].feeds:
            for day in range(problem.days):
                forced = Slot(day, tank, feed)
                if forced not in made.slots:
                    reasons = why_not(problem, made.slots, day, tank, feed)
                    holds(problem, made.slots, forced, reasons, before)


def holds(
    problem: Problem, plan: tuple[Slot, ...], forced: Slot, reasons: tuple[Reason, ...], before: dict[str, float]
) -> None:
    after = document(problem, tuple(sorted((*plan, forced))))
    breaches = checker.check(after)
    named = [reason.rule for reason in reasons]
    hard = [rule for rule in named if rule in BLAMES]
    if breaches:
        assert hard == named
        for rule in hard:
            assert any(BLAMES[str(rule)] in breach for breach in breaches)
        return
    assert hard == []
    rises = {name: rise for name, cost in checker.costs(after).items() if (rise := cost - before[name]) > 1e-6}
    rises.pop("total", None)
    [name] = named
    assert name is None if not rises else rises[str(name)] == pytest.approx(max(rises.values()))


@given(problems(most_tanks=2, most_feeds=4, most_days=30))
@settings(max_examples=30, deadline=None)
def test_every_serving_has_a_reason_that_fits_one_line(problem: Problem) -> None:
    made = quick(problem)
    for slot in made.slots:
        assert len(why(problem, made.slots, slot)) >= 1
        assert 0 < len(why_short(problem, made.slots, slot)) <= 80


def test_a_serving_is_explained_by_its_clock_its_company_and_its_week() -> None:
    feeds = {
        "dust": a_feed(kind="powder", share=0.3, last=-3, max_gap=3, per_week=3, wanted_since=-9),
        "pill": a_feed(per_week=2, last=-4, max_gap=7, wanted_since=-9),
    }
    problem = a_problem(feeds, adults=tuple(range(7)))
    plan = slots((0, "dust"), (0, "pill"), (3, "dust"))
    dust, pill = plan[0], plan[1]
    assert why_short(problem, plan, dust) == "3 days since the last, at most 3; 1 of 3 this week"
    assert why_short(problem, plan, pill, {"dust": "the powder"}) == (
        "4 days since the last, at most 7; draws the adults from the powder"
    )
    assert [reason.rule for reason in why(problem, plan, pill)] == ["overdue", "unaccompanied", "weekly"]


def test_what_keeps_a_feed_away_is_said_in_words() -> None:
    feeds = {
        "pill": a_feed(group="staples", share=0.6),
        "wafer": a_feed(group="staples", share=0.6, open=(0, 1, 2, 3, 4, 5)),
        "grub": a_feed(kind="protein", min_gap=4, last=-2, share=0.5, per_week=1),
    }
    groups = {"staples": GroupTask(2, LastOfGroup(-4, "pill"))}
    problem, plan = a_problem(feeds, groups=groups), slots((1, "pill"), (5, "grub"))
    said = {
        (day, feed): " | ".join(reason.text for reason in why_not(problem, plan, day, "a1", feed, {"grub": "the grub"}))
        for day, feed in [(2, "wafer"), (5, "pill"), (1, "grub"), (6, "wafer"), (2, "grub")]
    }
    assert said == {
        (2, "wafer"): "staples need 2 days between: one is given the day before",
        (5, "pill"): "its 0.6 share does not fit beside the grub",
        (1, "grub"): "needs 4 days between: given 3 days earlier | its 0.5 share does not fit beside pill",
        (6, "wafer"): "nothing of it may be given that day",
        (2, "grub"): "needs 4 days between: given 3 days later",
    }
