"""A malformed problem is refused with the path of the fault, what was found and what is allowed."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.plan.planner import quick
from schedules.problem.json import ProblemFault, plan_to_json, problem_from_json
from schedules.problem.types import GroupTask, LastOfGroup, Slot

from .problems import WEDNESDAY, a_feed, a_problem, document

Change = Callable[[dict[str, Any]], object]


def good() -> dict[str, Any]:
    feeds = {"pill": a_feed(group="staples", last=-2), "dust": a_feed(kind="powder", given_this_week=1)}
    groups = {"staples": GroupTask(2, LastOfGroup(-2, "pill"))}
    return document(a_problem(feeds, start=WEDNESDAY, groups=groups, posted=(Slot(0, "a1", "pill"),)), ())


def pill(read: dict[str, Any]) -> dict[str, Any]:
    feed: dict[str, Any] = read["problem"]["tanks"]["a1"]["feeds"]["pill"]
    return feed


PILL = "problem.tanks.a1.feeds.pill"
FAULTS: list[tuple[Change, str]] = [
    (lambda d: d.update(format="other/1"), 'format: found "other/1", allowed is "rackround-plan/1"'),
    (lambda d: d.pop("days"), "days: found nothing, allowed is this key, which must be there"),
    (lambda d: d.update(days=91), "days: found 91, allowed is a whole number from 1 to 90"),
    (lambda d: d.update(days=True), "days: found true, allowed is a whole number from 1 to 90"),
    (lambda d: d.update(start="2026-02-30"), 'start: found "2026-02-30", allowed is a date that exists, as 2026-11-25'),
    (lambda d: d.update(problem=[]), "problem: found an array, allowed is an object"),
    (
        lambda d: pill(d).update(min_gapp=pill(d).pop("min_gap")),
        f'{PILL}.min_gapp: found the unknown key "min_gapp" (did you mean min_gap?), allowed is kind, group, round, '
        "min_gap, max_gap, per_week, share, minutes, wanted, wanted_since, open, last, earlier_this_week",
    ),
    (lambda d: pill(d).update(max_gap=0), f"{PILL}.max_gap: found 0, allowed is a whole number from 1 to 366"),
    (lambda d: pill(d).update(min_gap=1.5), f"{PILL}.min_gap: found 1.5, allowed is a whole number from 0 to 366"),
    (lambda d: pill(d).update(share=float("nan")), f"{PILL}.share: found nan, allowed is a number of 0 or more"),
    (lambda d: pill(d).update(minutes="1"), f'{PILL}.minutes: found "1", allowed is a number of 0 or more'),
    (lambda d: pill(d).update(last=0), f"{PILL}.last: found 0, allowed is a whole number of -1 or less"),
    (lambda d: pill(d).update(wanted=[0, 2, 2]), f"{PILL}.wanted[2]: found 2, allowed is a whole number from 3 to 6"),
    (
        lambda d: pill(d).update(wanted=[0, 1], open=[2]),
        f"{PILL}.open[0]: found 2, allowed is a day that is also wanted",
    ),
    (
        lambda d: pill(d).update(wanted_since=None),
        f"{PILL}.wanted_since: found null, allowed is a day up to 0, as day 0 is wanted",
    ),
    (
        lambda d: pill(d).update(group="greens"),
        f'{PILL}.group: found "greens", allowed is null or a group of the tank: staples',
    ),
    (
        lambda d: pill(d).update(kind="flakes"),
        f'{PILL}.kind: found "flakes", allowed is one of biofilm, powder, suspension, mineral, staple, protein, greens',
    ),
    (
        lambda d: pill(d)["earlier_this_week"].update(wanted=3),
        f"{PILL}.earlier_this_week.wanted: found 3, allowed is a whole number from 0 to 2",
    ),
    (
        lambda d: d["problem"]["posted"].append({"day": 7, "tank": "a1", "feed": "pill"}),
        "problem.posted[1].day: found 7, allowed is a whole number from 0 to 6",
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
