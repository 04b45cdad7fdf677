"""The JSON of a plan without amounts, written without the planner's code, for the checker and for measurements."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict
from datetime import timedelta
from typing import Any

from schedules.planning import checker
from schedules.planning.problem.types import Plan, Problem, Slot, TankProblem


def document(problem: Problem, slots: Iterable[Slot]) -> dict[str, Any]:
    """A plan's JSON, read; parts and costs as the checker finds them, and no bound."""
    read = _unjudged(problem, slots)
    return {**read, "cost": checker.costs(read), "bound": None}


def document_of_plan(problem: Problem, made: Plan) -> dict[str, Any]:
    """A plan's JSON, read, with the costs and the bound that the planner states."""
    read = _unjudged(problem, made.slots)
    return {**read, "cost": {**asdict(made.cost), "total": made.cost.total}, "bound": made.bound}


def _unjudged(problem: Problem, slots: Iterable[Slot]) -> dict[str, Any]:
    written = {
        "format": checker.FORMAT,
        "start": problem.start.isoformat(),
        "days": problem.days,
        "problem": {
            "tanks": {name: _tank(tank) for name, tank in problem.tanks.items()},
            "posted": [slot._asdict() for slot in problem.posted],
            "posted_days": problem.posted_days,
        },
        "servings": [_serving(problem, slot) for slot in slots],
    }
    read: dict[str, Any] = json.loads(json.dumps(written))
    _add_parts(read)
    return read


def _tank(tank: TankProblem) -> dict[str, Any]:
    clocks = {}
    for clock_id, clock in tank.clocks.items():
        written = asdict(clock)
        written["earlier_this_week"] = {"days": written.pop("earlier_days"), "wanted": written.pop("earlier_wanted")}
        written["last"] = clock.last and clock.last._asdict()
        clocks[clock_id] = written
    return {"adults": tank.adults, "clocks": clocks, "feeds": {name: asdict(feed) for name, feed in tank.feeds.items()}}


def _serving(problem: Problem, slot: Slot) -> dict[str, Any]:
    day = problem.start + timedelta(days=slot.day)
    return {**slot._asdict(), "date": day.isoformat(), "round": problem.tanks[slot.tank].feeds[slot.feed].round}


def _add_parts(read: dict[str, Any]) -> None:
    tables: dict[tuple[int, str, str], list[dict[str, Any]]] = {}
    for serving in read["servings"]:
        feed = read["problem"]["tanks"][serving["tank"]]["feeds"][serving["feed"]]
        tables.setdefault((serving["day"], serving["tank"], feed["table"]), []).append(serving)
    for (_, tank, _), together in tables.items():
        feeds = read["problem"]["tanks"][tank]["feeds"]
        found = checker.parts({one["feed"]: feeds[one["feed"]] for one in together})
        for serving in together:
            serving["part"] = found[serving["feed"]]
