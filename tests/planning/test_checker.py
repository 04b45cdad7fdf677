"""The checker finds each way of breaking a rule and each wrong number, and nothing else."""

from __future__ import annotations

import ast
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.planning import checker
from schedules.planning.problem.types import LastAnswer, Problem, Slot
from tests.bench.plan_document import document
from tests.bench.plan_rooms import invented_room

from . import restated
from .problems import MONDAY, a_clock, a_feed, a_problem, every_place, problems, slots

FEEDS = {
    "film": a_feed(kind="biofilm", table="fine", draws=False, share=0.3, most=0.6),
    "dust": a_feed(kind="powder", table="fine", draws=False, share=0.8),
    "chip": a_feed(min_gap=4, last=-2, share=0.6),
    "disc": a_feed(min_gap=0, share=0.6),
    "leaf": a_feed(kind="greens", draws=False, share=0.4, open=(0, 2, 4, 5)),
}
CLOCKS = {
    "staple": a_clock("chip", "disc", min_gap=3, rotate=True, last=LastAnswer(-2, "chip")),
    "fine": a_clock("dust", "film", max_gap=2, per_week=5, overdue=300),
}
PROBLEM = a_problem(FEEDS, CLOCKS, adults=(0, 1, 2, 3))
SOUND = slots((1, "disc"), (5, "chip"), (0, "leaf"), (4, "leaf"), (0, "film"), (2, "dust"), (4, "film"), (6, "dust"))


def test_a_plan_that_keeps_the_rules_is_not_blamed() -> None:
    assert checker.check(document(PROBLEM, SOUND)) == []


@pytest.mark.parametrize(
    ("given", "code", "values", "text"),
    [
        ([(1, "leaf")], "closed", {"feed": "leaf", "day": 1}, "a1: leaf on day 1, which is not open"),
        (
            [(1, "chip")],
            "feed_gap",
            {"feed": "chip", "day": 1, "before": -2, "gap": 3, "needed": 4},
            "a1: chip on day 1, 3 after day -2; at least 4",
        ),
        (
            [(2, "chip"), (5, "chip")],
            "feed_gap",
            {"feed": "chip", "day": 5, "before": 2, "gap": 3, "needed": 4},
            "a1: chip on day 5, 3 after day 2; at least 4",
        ),
        (
            [(0, "disc")],
            "clock_gap",
            {"clock": "staple", "day": 0, "before": -2, "gap": 2, "needed": 3},
            "a1: clock staple on day 0, 2 after day -2; at least 3",
        ),
        (
            [(2, "chip"), (4, "disc")],
            "clock_gap",
            {"clock": "staple", "day": 4, "before": 2, "gap": 2, "needed": 3},
            "a1: clock staple on day 4, 2 after day 2; at least 3",
        ),
        (
            [(2, "dust"), (2, "film")],
            "shares",
            {"table": "fine", "day": 2, "found": pytest.approx(1.1)},
            "a1: the shares at the fine table on day 2 add up to 1.1; at most 1",
        ),
    ],
)
def test_a_broken_rule_is_named_with_its_numbers(
    given: list[tuple[int, str]], code: str, values: Mapping[str, Any], text: str
) -> None:
    [breach] = checker.broken_rules(document(PROBLEM, slots(*given)))
    assert (breach.code, breach.values) == (code, {"tank": "a1", **values})
    assert breach.text == text


def test_two_feeds_of_a_clock_with_a_gap_on_one_day_are_named() -> None:
    pair = a_problem({"a": a_feed(share=0.2), "b": a_feed(share=0.2)}, {"both": a_clock("a", "b", min_gap=1)})
    [breach] = checker.broken_rules(document(pair, slots((3, "a"), (3, "b"))))
    assert (breach.code, breach.values["gap"], breach.values["day"]) == ("clock_gap", 0, 3)


def test_a_clock_without_a_gap_takes_any_number_of_feeds_on_a_day() -> None:
    pair = a_problem({"a": a_feed(share=0.5), "b": a_feed(share=0.5)}, {"both": a_clock("a", "b", min_gap=0)})
    assert checker.check(document(pair, slots((3, "a"), (3, "b")))) == []


def test_tables_have_a_ration_each() -> None:
    feeds = {name: a_feed(table=name, share=1.0) for name in ("fine", "ground", "fan")}
    assert checker.check(document(a_problem(feeds), slots((0, "fine"), (0, "ground"), (0, "fan")))) == []


def test_a_serving_twice_a_day_is_named_once() -> None:
    twice = document(PROBLEM, slots((4, "film")))
    twice["servings"] *= 2
    assert [breach.text for breach in checker.broken_rules(twice)] == ["a1: film is served 2 times on day 4"]


def test_a_serving_of_no_tank_or_feed_or_in_the_wrong_place_is_named() -> None:
    read = document(PROBLEM, SOUND)
    serving = read["servings"][0]
    read["servings"] += [{**serving, "tank": "b9"}, {**serving, "feed": "z"}]
    serving |= {"date": "2026-11-24", "round": "evening"}
    assert [breach.text for breach in checker.broken_rules(read)] == [
        f"a1: {serving['feed']} on day 0 is dated 2026-11-24, not 2026-11-23",
        f"a1: {serving['feed']} on day 0 is in the round evening, not morning",
        "b9 is not a tank of this room (day 0)",
        "a1: z is not a feed of this tank (day 0)",
    ]


def test_another_format_is_refused() -> None:
    read = {**document(PROBLEM, SOUND), "format": "rackround-plan/1"}
    assert [breach.code for breach in checker.check(read)] == ["format"]


def test_shares_that_add_up_to_one_by_halves_and_tenths_fit() -> None:
    feeds = {name: a_feed(share=share) for name, share in (("a", 0.1), ("b", 0.2), ("c", 0.7))}
    assert checker.check(document(a_problem(feeds), slots((0, "a"), (0, "b"), (0, "c")))) == []


@pytest.mark.parametrize(
    "name", ["overdue", "unaccompanied", "weekly", "repeat", "longest_round", "churn", "late_churn", "total"]
)
def test_a_wrong_cost_is_named(name: str) -> None:
    read = document(PROBLEM, SOUND)
    read["cost"][name] += 0.5
    [breach] = checker.check(read)
    assert (breach.code, breach.values["name"]) == ("cost", name)
    assert breach.values["found"] == breach.values["needed"] + 0.5


def test_a_bound_above_the_cost_is_named() -> None:
    read = document(PROBLEM, SOUND)
    total = read["cost"]["total"]
    assert checker.check({**read, "bound": total}) == []
    assert [breach.code for breach in checker.check({**read, "bound": total + 1})] == ["bound"]


def test_a_wrong_part_is_named() -> None:
    read = document(PROBLEM, SOUND)
    read["servings"][0]["part"] += 0.1
    assert [breach.code for breach in checker.check(read)] == ["part"]


# The costs of one plan, counted by hand. A week from a Monday; adults on days 0 to 3.
# overdue: fine on days 0, 2, 4 and 6 leaves no day without fine feed for two days.
# unaccompanied: film on day 0 (a leaf does not draw) and dust on day 2: two servings.
# weekly: four fine days of five. repeat: none; disc follows the ledger's chip, chip follows disc.
# longest round: two servings of a minute.
BY_HAND = {"overdue": 0, "unaccompanied": 10, "weekly": 10, "repeat": 0, "longest_round": 60, "churn": 0}


def test_the_costs_of_a_week_are_those_counted_by_hand() -> None:
    found = checker.costs(document(PROBLEM, SOUND))
    assert found == {**BY_HAND, "late_churn": 0, "total": 80}


def test_days_are_overdue_from_the_start_of_the_need_and_from_the_ledger() -> None:
    # Wanted since day -1, never given, longest gap 3: overdue from day 1 (1 - (-2) = 3) on, until day 4 is served.
    clock = a_clock("dust", max_gap=3, overdue=100, wanted_since=-1)
    assert checker.costs(document(a_problem(FEEDS, {"c": clock}), slots((4, "dust"))))["overdue"] == 300
    # The need begins again on day 3 after a day without; the serving of day 0 is older than that.
    clock = a_clock("dust", max_gap=3, overdue=100, wanted=(0, 1, 3, 4, 5, 6))
    assert checker.costs(document(a_problem(FEEDS, {"c": clock}), slots((0, "dust"))))["overdue"] == 200
    # Given on day -1 by the ledger: days 0 and 1 are not overdue, day 2 is.
    clock = a_clock("dust", max_gap=3, overdue=100, wanted=(0, 1, 2), wanted_since=-9, last=LastAnswer(-1, "dust"))
    assert checker.costs(document(a_problem(FEEDS, {"c": clock}), ()))["overdue"] == 100


def test_a_week_counts_days_not_servings_and_its_days_before_the_plan() -> None:
    # From a Wednesday: of five wanted days a seventh of 3.5 is 2.5; one day was served before, one in the plan.
    clock = a_clock("dust", "film", per_week=3.5, wanted=(0, 1, 2), earlier_days=1, earlier_wanted=2)
    feeds = {"dust": a_feed(share=0.1), "film": a_feed(share=0.1)}
    problem = a_problem(feeds, {"c": clock}, start=MONDAY.replace(day=25))
    assert checker.costs(document(problem, slots((1, "dust"), (1, "film"), (4, "film"))))["weekly"] == 5


def test_a_repeat_costs_only_where_another_feed_is_open() -> None:
    feeds = {"a": a_feed(share=0.1), "b": a_feed(share=0.1, open=(3,))}
    problem = a_problem(feeds, {"c": a_clock("a", "b", rotate=True, last=LastAnswer(-3, "a"))})
    assert checker.costs(document(problem, slots((0, "a"), (3, "a"))))["repeat"] == 20
    assert checker.costs(document(problem, slots((0, "a"), (3, "b"), (4, "a"))))["repeat"] == 0


def test_changes_count_on_posted_days_only_and_less_from_the_eighth_on() -> None:
    posted = slots((0, "a"), (2, "a"), (8, "a"), (9, "a"), (0, "gone"))
    problem = a_problem({"a": a_feed(12)}, days=12, posted=posted, posted_days=9)
    found = checker.costs(document(problem, slots((0, "a"), (1, "a"), (7, "a"), (11, "a"))))
    # Changed near: day 1 added, day 2 and the feed that is gone are missing. Late: day 7 added, day 8 missing.
    assert (found["churn"], found["late_churn"]) == (6, 1)


@pytest.mark.parametrize(
    ("served", "parts"),
    [
        # Worked by hand: one factor raises all shares to 1, a serving at its most stays there.
        ({"staple": (0.5, 1.0)}, {"staple": 1.0}),
        ({"staple": (0.5, 1.0), "greens": (0.3, 1.0)}, {"staple": 0.625, "greens": 0.375}),
        ({"protein": (0.4, 0.6)}, {"protein": 0.6}),
        ({"protein": (0.4, 0.6), "greens": (0.2, 1.0)}, {"protein": 0.6, "greens": 0.4}),
        ({"mineral": (0.1, 0.3), "protein": (0.4, 0.6)}, {"mineral": 0.3, "protein": 0.6}),
        ({"leaf": (0.0, 0.0), "staple": (0.5, 1.0)}, {"leaf": 0.0, "staple": 1.0}),
        ({"leaf": (0.0, 0.0)}, {"leaf": 0.0}),
        ({"a": (0.5, 0.5), "b": (0.5, 1.0)}, {"a": 0.5, "b": 0.5}),
    ],
)
def test_parts_fill_the_day_as_worked_out_by_hand(
    served: Mapping[str, tuple[float, float]], parts: Mapping[str, float]
) -> None:
    found = checker.parts({name: {"share": share, "most": most} for name, (share, most) in served.items()})
    assert found == pytest.approx(parts)


@given(st.data())
@settings(max_examples=200, deadline=None)
def test_the_checker_judges_random_plans_as_the_rules_read_word_for_word(data: st.DataObject) -> None:
    problem = data.draw(problems())
    places = every_place(problem) or [Slot(0, next(iter(problem.tanks)), "f0")]
    chosen = tuple(sorted(data.draw(st.sets(st.sampled_from(places), max_size=20))))
    read = document(problem, chosen)
    assert (checker.broken_rules(read) == []) == restated.is_lawful(problem, chosen)
    found = checker.costs(read)
    assert {name: found[name] for name in found if name != "total"} == pytest.approx(
        {name: 0.0 for name in found if name != "total"} | restated.costs(problem, chosen)
    )
    assert found["total"] == pytest.approx(sum(restated.costs(problem, chosen).values()))


@pytest.mark.parametrize("tight", [False, True])
def test_invented_rooms_are_sound_without_any_serving(tight: bool) -> None:
    problem: Problem = invented_room(12, 5, tight, posted=True)
    assert checker.check(document(problem, ())) == []


def test_the_checker_imports_nothing_of_this_program() -> None:
    tree = ast.parse(Path(checker.__file__).read_text(encoding="utf-8"))
    imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    imported |= {name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names}
    assert imported == {"__future__", "math", "collections.abc", "dataclasses", "datetime", "itertools", "typing"}
