"""Each explanation is held to the checker: force the serving, and the named rule breaks or the named cost rises."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from schedules.planning import checker
from schedules.planning.explain import Reason, why, why_not
from schedules.planning.explain.reasons import HARD
from schedules.planning.explain.words import text, texts
from schedules.planning.problem.types import LastAnswer, Problem, Slot
from schedules.planning.search import quick
from tests.bench.plan_document import document

from .problems import a_clock, a_feed, a_problem, problems, slots

BREACHES = {
    "not_open": "closed",
    "not_wanted": "closed",
    "feed_gap": "feed_gap",
    "clock_gap": "clock_gap",
    "table_full": "shares",
}
COSTS = {
    "week_full": "weekly",
    "repeat": "repeat",
    "unaccompanied": "unaccompanied",
    "longer_round": "longest_round",
}


@given(problems(most_days=10))
@settings(max_examples=25, deadline=None)
def test_forcing_a_serving_breaks_the_named_rules_or_raises_the_named_cost(problem: Problem) -> None:
    made = quick(problem)
    before = checker.costs(document(problem, made.slots))
    for name, tank in problem.tanks.items():
        for feed in tank.feeds:
            for day in range(problem.days):
                forced = Slot(day, name, feed)
                if forced not in made.slots:
                    holds(problem, made.slots, forced, why_not(problem, made.slots, forced), before)


def holds(
    problem: Problem, plan: tuple[Slot, ...], forced: Slot, reasons: tuple[Reason, ...], before: dict[str, float]
) -> None:
    after = document(problem, sorted((*plan, forced)))
    breaches = {breach.code for breach in checker.broken_rules(after)}
    hard = [reason.code for reason in reasons if reason.code in HARD]
    if breaches:
        assert len(hard) == len(reasons)
        assert {BREACHES[code] for code in hard} <= breaches
        return
    assert hard == []
    rises = {name: rise for name, cost in checker.costs(after).items() if (rise := cost - before[name]) > 1e-6}
    rises.pop("total", None)
    [reason] = reasons
    if reason.code == "nothing":
        assert rises == {}
    elif reason.code == "not_posted":
        assert max(rises.values()) == pytest.approx(rises.get("churn", 0) + rises.get("late_churn", 0))
    else:
        assert rises[COSTS[reason.code]] == pytest.approx(max(rises.values()))


@given(problems(most_days=20))
@settings(max_examples=30, deadline=None)
def test_reasons_are_values_and_their_words_fit_a_line(problem: Problem) -> None:
    made = quick(problem)
    for slot in made.slots:
        for reason in why(problem, made.slots, slot):
            assert 0 < len(text(reason)) <= 80


def shrimp_room() -> tuple[Problem, tuple[Slot, ...]]:
    """A colony: fine feed due, staples taking turns, protein once a week."""
    feeds = {
        "dust": a_feed(kind="powder", table="fine", share=0.3, draws=False, last=-2),
        "pill": a_feed(last=-3),
        "wafer": a_feed(last=-5, open=(0, 1, 2, 3, 4, 5)),
        "grub": a_feed(kind="protein", share=0.4, min_gap=4, last=-2),
    }
    week = tuple(range(7))
    clocks = {
        "fine": a_clock("dust", max_gap=2, per_week=5, overdue=300, wanted_since=-9, last=LastAnswer(-2, "dust")),
        "ground": a_clock(
            *("grub", "pill", "wafer"), max_gap=3, per_week=5, overdue=200, wanted_since=-9, last=LastAnswer(-2, "grub")
        ),
        "staple": a_clock("pill", "wafer", min_gap=2, rotate=True, wanted_since=-9, last=LastAnswer(-3, "pill")),
        "protein": a_clock("grub", min_gap=4, per_week=1, wanted_since=-9, last=LastAnswer(-2, "grub")),
    }
    plan = slots((0, "dust"), (0, "wafer"), (2, "dust"), (2, "pill"), (5, "grub"))
    return a_problem(feeds, clocks, adults=week), plan


def test_a_serving_is_explained_by_the_needs_it_answers_first() -> None:
    problem, plan = shrimp_room()
    assert texts(why(problem, plan, Slot(0, "a1", "dust"))) == (
        "fine feed: 2 days since the last, at most 2; fine feed: day 1 of 5 this week"
    )
    assert texts(why(problem, plan, Slot(0, "a1", "wafer")), {"dust": "the powder", "pill": "the pill"}) == (
        "food on the ground: 2 days since the last, at most 3; food on the ground: day 1 of 5 this week; "
        "draws the adults from the powder; its turn after the pill"
    )
    assert [reason.code for reason in why(problem, plan, Slot(5, "a1", "grub"))] == ["since_last", "of_week", "of_week"]


def test_a_need_never_met_is_counted_from_when_it_began() -> None:
    feeds = {"dust": a_feed(kind="powder", table="fine")}
    problem = a_problem(feeds, {"first_fine": a_clock("dust", max_gap=2, overdue=300, wanted_since=-3)})
    [reason] = why(problem, slots((0, "dust")), Slot(0, "a1", "dust"))
    assert reason == Reason("first_wanted", "first_fine", days=4, limit=2)
    assert text(reason) == "fine feed after the hatch: wanted for 4 days, late"


@pytest.mark.parametrize(
    ("day", "feed", "said"),
    [
        (1, "pill", "a staple: at least 2 days apart, wafer is given the day before"),
        (6, "wafer", "it may not be given that day"),
        (1, "grub", "at least 4 days between two servings: one is given 3 days earlier"),
        (4, "pill", "it was given last, and wafer could be given"),
        (4, "dust", "no feed that day draws the adults away"),
        (6, "pill", "nothing keeps it away"),
    ],
)
def test_what_keeps_a_feed_away_is_said_in_words(day: int, feed: str, said: str) -> None:
    problem, plan = shrimp_room()
    assert texts(why_not(problem, plan, Slot(day, "a1", feed))) == said
