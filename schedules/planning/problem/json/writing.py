"""From a planning problem and its plan to JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import timedelta
from typing import Any

from schedules.planning.problem.json.schema import FORMAT, Feed
from schedules.planning.problem.parts import parts
from schedules.planning.problem.types import Clock, Plan, Problem, Slot, TankProblem

Json = dict[str, Any]


def _problem_to_json(problem: Problem) -> Json:
    """The `problem` part of a plan's JSON."""
    return {
        "tanks": {name: _tank_to_json(tank) for name, tank in problem.tanks.items()},
        "posted": [slot._asdict() for slot in problem.posted],
        "posted_days": problem.posted_days,
    }


def plan_to_json(problem: Problem, plan: Plan, servings: Sequence[Mapping[str, Any]] | None = None) -> Json:
    """A plan as JSON, checkable without the room.

    `servings` says for each slot, in the plan's order, what only the room knows: `amount`, `unit`, `amount_mg`,
    `method`, `why`. Without it, as where a bare problem was planned, these are null.
    """
    extras: Sequence[Mapping[str, Any]] = servings if servings is not None else [{}] * len(plan.slots)
    taken = parts(problem, plan.slots)
    cost = {name: getattr(plan.cost, name) for name in plan.cost.__slots__}
    return {
        "format": FORMAT,
        "start": problem.start.isoformat(),
        "days": problem.days,
        "problem": _problem_to_json(problem),
        "servings": [
            _serving(problem, slot, taken[slot], extra) for slot, extra in zip(plan.slots, extras, strict=True)
        ],
        "cost": {**cost, "total": plan.cost.total},
        "bound": plan.bound,
    }


def _serving(problem: Problem, slot: Slot, part: float, extra: Mapping[str, Any]) -> Json:
    return {
        "day": slot.day,
        "date": (problem.start + timedelta(days=slot.day)).isoformat(),
        "round": problem.tanks[slot.tank].feeds[slot.feed].round,
        "tank": slot.tank,
        "feed": slot.feed,
        "part": part,
        **{key: extra.get(key) for key in ("amount", "unit", "amount_mg", "method", "why")},
    }


def _tank_to_json(tank: TankProblem) -> Json:
    return {
        "adults": list(tank.adults),
        "clocks": {name: _clock_to_json(clock) for name, clock in tank.clocks.items()},
        "feeds": {
            name: {key: getattr(feed, key) for key in Feed.model_fields} | {"open": list(feed.open)}
            for name, feed in tank.feeds.items()
        },
    }


def _clock_to_json(clock: Clock) -> Json:
    plain = ("min_gap", "max_gap", "per_week", "overdue", "rotate")
    return {
        "feeds": list(clock.feeds),
        **{key: getattr(clock, key) for key in plain},
        "wanted": list(clock.wanted),
        "wanted_since": clock.wanted_since,
        "last": clock.last._asdict() if clock.last else None,
        "earlier_this_week": {"days": clock.earlier_days, "wanted": clock.earlier_wanted},
    }
