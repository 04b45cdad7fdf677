"""A problem comes back from its JSON; a malformed one is refused with the path of the fault, found and allowed."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.planning import checker
from schedules.planning.problem.json import ProblemFault, plan_to_json, problem_from_json
from schedules.planning.problem.types import LastAnswer, Problem, Slot
from schedules.planning.search import quick
from tests.bench.plan_document import document
from tests.bench.plan_rooms import invented_room

from .problems import MONDAY, a_clock, a_feed, a_problem, problems

Change = Callable[[dict[str, Any]], object]


def good() -> dict[str, Any]:
    feeds = {"pill": a_feed(last=-2), "dust": a_feed(kind="powder", table="fine", share=0.3)}
    clocks = {
        "staple": a_clock("pill", min_gap=2, last=LastAnswer(-2, "pill")),
        "fine": a_clock("dust", max_gap=2, per_week=5, overdue=300, wanted_since=-1, earlier_days=1, earlier_wanted=2),
    }
    wednesday = MONDAY.replace(day=25)
    posted = (Slot(0, "a1", "pill"),)
    return document(a_problem(feeds, clocks, start=wednesday, posted=posted, posted_days=5), ())


def feed(read: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = read["problem"]["tanks"]["a1"]["feeds"]["pill"]
    return found


def clock(read: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = read["problem"]["tanks"]["a1"]["clocks"]["fine"]
    return found


PILL, FINE = "problem.tanks.a1.feeds.pill", "problem.tanks.a1.clocks.fine"
OTHER_FORM = 'allowed is "rackround-plan/2"; plans of an earlier form have to be made again'
FAULTS: list[tuple[Change, str]] = [
    (lambda d: d.update(format="rackround-plan/1"), f'format: found "rackround-plan/1", {OTHER_FORM}'),
    (lambda d: d.pop("format"), f"format: found nothing, {OTHER_FORM}"),
    (lambda d: d.pop("days"), "days: found nothing, allowed is this key, which must be there"),
    (lambda d: d.update(days=91), "days: found 91, allowed is a whole number from 1 to 90"),
    (lambda d: d.update(days=True), "days: found true, allowed is a whole number from 1 to 90"),
    (
        lambda d: d.update(days=10**400),
        "days: found a whole number of 401 digits, allowed is a whole number from 1 to 90",
    ),
    (lambda d: d.update(start="2026-02-30"), 'start: found "2026-02-30", allowed is a date that exists, as 2026-11-25'),
    (lambda d: d.update(start="9999-12-30"), "days: found 7, allowed is a plan that ends before 9999-12-31"),
    (lambda d: d.update(problem=[]), "problem: found an array, allowed is an object"),
    (
        lambda d: feed(d).update(min_gapp=feed(d).pop("min_gap")),
        f"{PILL}.min_gap: found nothing, allowed is this key, which must be there",
    ),
    (
        lambda d: feed(d).update(min_gapp=1),
        f'{PILL}.min_gapp: found the unknown key "min_gapp" (did you mean min_gap?), allowed is draws, kind, last, '
        "min_gap, minutes, most, open, round, share, table",
    ),
    (lambda d: feed(d).update(share=1e308), f"{PILL}.share: found 1e+308, allowed is a number from 0 to 1"),
    (lambda d: feed(d).update(share=float("nan")), f"{PILL}.share: found nan, allowed is a number from 0 to 1"),
    (
        lambda d: feed(d).update(minutes=10**400),
        f"{PILL}.minutes: found a whole number of 401 digits, allowed is a number from 0 to 1440",
    ),
    (lambda d: feed(d).update(minutes="1"), f'{PILL}.minutes: found "1", allowed is a number from 0 to 1440'),
    (lambda d: feed(d).update(most=0.2), f"{PILL}.most: found 0.2, allowed is a number from its share (0.5) to 1"),
    (lambda d: feed(d).update(last=0), f"{PILL}.last: found 0, allowed is a whole number from -36500 to -1"),
    (lambda d: feed(d).update(open=[0, 2, 2]), f"{PILL}.open[2]: found 2, allowed is a whole number from 3 to 6"),
    (lambda d: feed(d).update(draws=1), f"{PILL}.draws: found 1, allowed is true or false"),
    (
        lambda d: feed(d).update(kind="flakes"),
        f'{PILL}.kind: found "flakes", allowed is one of biofilm, powder, suspension, mineral, staple, protein, greens',
    ),
    (lambda d: feed(d).update(table="top"), f'{PILL}.table: found "top", allowed is one of fine, ground, fan'),
    (lambda d: clock(d).update(max_gap=0), f"{FINE}.max_gap: found 0, allowed is a whole number from 1 to 366"),
    (lambda d: clock(d).update(min_gap=1.5), f"{FINE}.min_gap: found 1.5, allowed is a whole number from 0 to 366"),
    (lambda d: clock(d).update(per_week=8), f"{FINE}.per_week: found 8, allowed is a number from 0 to 7"),
    (lambda d: clock(d).update(feeds=[]), f"{FINE}.feeds: found an empty array, allowed is one feed or more"),
    (
        lambda d: clock(d).update(feeds=["dust", "grub"]),
        f'{FINE}.feeds[1]: found "grub", allowed is a feed of the tank, each once: pill, dust',
    ),
    (
        lambda d: clock(d).update(wanted_since=None),
        f"{FINE}.wanted_since: found null, allowed is a day up to 0, as day 0 is wanted",
    ),
    (
        lambda d: clock(d)["earlier_this_week"].update(wanted=3),
        f"{FINE}.earlier_this_week.wanted: found 3, allowed is at most the 2 days since Monday",
    ),
    (
        lambda d: clock(d)["earlier_this_week"].update(days=2, wanted=1),
        f"{FINE}.earlier_this_week.days: found 2, allowed is at most the 1 wanted days",
    ),
    (
        lambda d: d["problem"]["posted"].append({"day": -1, "tank": "a1", "feed": "pill"}),
        "problem.posted[1].day: found -1, allowed is a whole number from 0 to 89",
    ),
    (
        lambda d: d["problem"]["posted"].append({"day": 0, "tank": "a1", "feed": "pill"}),
        "problem.posted[1]: found pill for a1 on day 0 again, allowed is each serving once",
    ),
]


@pytest.mark.parametrize(("change", "fault"), FAULTS, ids=[fault.split(", allowed")[0] for _, fault in FAULTS])
def test_a_fault_is_named_with_its_path(change: Change, fault: str) -> None:
    read = good()
    change(read)
    with pytest.raises(ProblemFault) as raised:
        problem_from_json(read)
    assert str(raised.value) == fault
    assert fault.startswith(f"{raised.value.path}: ")


@pytest.mark.parametrize("junk", [None, 3, "plan", [], [{}]])
def test_what_is_no_object_at_all_is_refused(junk: object) -> None:
    with pytest.raises(ProblemFault, match=r"^document: found"):
        problem_from_json(junk)


@given(problems())
@settings(max_examples=100, deadline=None)
def test_a_problem_comes_back_from_its_json_unchanged(problem: Problem) -> None:
    assert problem_from_json(document(problem, ())) == problem


def test_a_plan_written_as_json_is_sound_by_the_checker_and_holds_its_problem() -> None:
    problem = invented_room(3, 5, tight=False, days=14, posted=True)
    written = json.loads(json.dumps(plan_to_json(problem, quick(problem))))
    assert checker.check(written) == []
    assert problem_from_json(written) == problem


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=3),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=4,
)


@given(st.data(), JUNK)
@settings(max_examples=150, deadline=None)
def test_junk_anywhere_is_refused_or_planned_but_never_a_traceback(data: st.DataObject, junk: object) -> None:
    read = copy.deepcopy(good())
    at: Any = read
    while True:
        key = data.draw(st.sampled_from(list(at) if isinstance(at, dict) else range(len(at))))
        if not isinstance(at[key], (dict, list)) or not at[key] or data.draw(st.booleans()):
            at[key] = junk
            break
        at = at[key]
    try:
        problem = problem_from_json(read)
    except ProblemFault as fault:
        assert fault.path
    else:
        assert problem_from_json(plan_to_json(problem, quick(problem))) == problem
