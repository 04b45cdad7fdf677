"""The rules stated a second time, from a plan's JSON alone.

Shares no code with the planner: it reads the document as plain dicts and lists, and imports nothing of this program,
so that a fault in how the planner understands a rule cannot hide in the check.
"""

from __future__ import annotations

import math
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

Document = dict[str, Any]
"""A plan as JSON, read."""

_SHARES_OF_A_DAY = 1 + 1e-9  # sums such as 0.1 + 0.2 + 0.7 are not exact
_FINE = ("biofilm", "powder", "suspension")


def check(document: Document) -> list[str]:
    """The hard rules that a plan breaks, one sentence each; an empty list for a plan that keeps them all."""
    breaches: list[str] = []
    for tank_id, tank in document["problem"]["tanks"].items():
        served = _served(document, tank_id)
        for feed_id in served:
            if feed_id not in tank["feeds"]:
                breaches.append(f"{tank_id}: {feed_id} is not a feed of this tank")
        known = {feed_id: days for feed_id, days in served.items() if feed_id in tank["feeds"]}
        breaches += _closed_or_doubled(tank_id, tank, known)
        breaches += _feed_gaps(tank_id, tank, known)
        breaches += _group_gaps(tank_id, tank, known)
        breaches += _full_days(tank_id, tank, known, document["days"])
    for serving in document["servings"]:
        if serving["tank"] not in document["problem"]["tanks"]:
            breaches.append(f"{serving['tank']} is not a tank of this room")
    return breaches


def costs(document: Document) -> dict[str, float]:
    """The costs of a plan by name, weights applied, and their total."""
    found = {
        "overdue": 200.0 * sum(_overdue(document, tank_id) for tank_id in document["problem"]["tanks"]),
        "unaccompanied": 5.0 * sum(_unaccompanied(document, tank_id) for tank_id in document["problem"]["tanks"]),
        "weekly": 10.0 * math.fsum(d for tank_id in document["problem"]["tanks"] for d in _weekly(document, tank_id)),
        "repeat": 20.0 * sum(_repeats(document, tank_id) for tank_id in document["problem"]["tanks"]),
        "longest_round": 30.0 * _longest_round(document),
        "churn": 2.0 * _churn(document),
    }
    found["total"] = sum(found.values())
    return found


def _served(document: Document, tank_id: str) -> dict[str, list[int]]:
    served: dict[str, list[int]] = {}
    for serving in document["servings"]:
        if serving["tank"] == tank_id:
            served.setdefault(serving["feed"], []).append(serving["day"])
    return {feed_id: sorted(days) for feed_id, days in served.items()}


def _closed_or_doubled(tank_id: str, tank: Document, served: dict[str, list[int]]) -> list[str]:
    breaches = []
    for feed_id, days in served.items():
        open_days = tank["feeds"][feed_id]["open"]
        breaches += [f"{tank_id}: {feed_id} on day {day}, which is not open" for day in days if day not in open_days]
        breaches += [f"{tank_id}: {feed_id} twice on day {a}" for a, b in pairwise(days) if a == b]
    return breaches


def _feed_gaps(tank_id: str, tank: Document, served: dict[str, list[int]]) -> list[str]:
    breaches = []
    for feed_id, days in served.items():
        feed = tank["feeds"][feed_id]
        known = days if feed["last"] is None else [feed["last"], *days]
        for before, day in pairwise(known):
            if before != day and day - before < feed["min_gap"]:
                breaches.append(
                    f"{tank_id}: {feed_id} on day {day}, {day - before} after day {before}, at least {feed['min_gap']}"
                )
    return breaches


def _group_servings(tank: Document, group_id: str, served: dict[str, list[int]]) -> list[tuple[int, str]]:
    members = [feed_id for feed_id in served if tank["feeds"][feed_id]["group"] == group_id]
    return sorted((day, feed_id) for feed_id in members for day in served[feed_id])


def _group_gaps(tank_id: str, tank: Document, served: dict[str, list[int]]) -> list[str]:
    breaches = []
    for group_id, group in tank["groups"].items():
        days = [day for day, _ in _group_servings(tank, group_id, served)]
        if group["last"] is not None:
            days.insert(0, group["last"]["day"])
        for before, day in pairwise(days):
            if day - before < group["min_gap"]:
                breaches.append(
                    f"{tank_id}: group {group_id} on day {day}, {day - before} after day {before},"
                    f" at least {group['min_gap']}"
                )
    return breaches


def _full_days(tank_id: str, tank: Document, served: dict[str, list[int]], days: int) -> list[str]:
    breaches = []
    for day in range(days):
        shares = math.fsum(tank["feeds"][feed_id]["share"] for feed_id, on in served.items() for d in on if d == day)
        if shares > _SHARES_OF_A_DAY:
            breaches.append(f"{tank_id}: the shares of day {day} add up to {shares:g}, at most 1")
    return breaches


def _overdue(document: Document, tank_id: str) -> int:
    count = 0
    served = _served(document, tank_id)
    for feed_id, feed in document["problem"]["tanks"][tank_id]["feeds"].items():
        wanted = set(feed["wanted"])
        for day in wanted:
            run_began = day
            while run_began - 1 in wanted:
                run_began -= 1
            if run_began == 0 and feed["wanted_since"] is not None:
                run_began = feed["wanted_since"]
            clocks = [run_began - 1, *(d for d in served.get(feed_id, []) if d <= day)]
            if feed["last"] is not None:
                clocks.append(feed["last"])
            count += day - max(clocks) >= feed["max_gap"]
    return count


def _unaccompanied(document: Document, tank_id: str) -> int:
    tank = document["problem"]["tanks"][tank_id]
    count = 0
    for day in tank["adults"]:
        kinds = [tank["feeds"][feed_id]["kind"] for feed_id, on in _served(document, tank_id).items() if day in on]
        if all(kind in _FINE for kind in kinds):
            count += sum(kind in ("biofilm", "powder") for kind in kinds)
    return count


def _weekly(document: Document, tank_id: str) -> list[float]:
    first = date.fromisoformat(document["start"])
    distances = []
    served = _served(document, tank_id)
    for sunday in range(document["days"]):
        if (first + timedelta(days=sunday)).isoweekday() != 7:
            continue
        week = range(sunday - 6, sunday + 1)
        for feed_id, feed in document["problem"]["tanks"][tank_id]["feeds"].items():
            given = sum(day in week for day in served.get(feed_id, []))
            wanted = sum(day in week for day in feed["wanted"])
            # The days of a week that began before day 0 are counted in the problem.
            if sunday <= 6:
                given += feed["earlier_this_week"]["given"]
                wanted += feed["earlier_this_week"]["wanted"]
            distances.append(abs(given - feed["per_week"] * wanted / 7))
    return distances


def _repeats(document: Document, tank_id: str) -> int:
    tank = document["problem"]["tanks"][tank_id]
    count = 0
    for group_id, group in tank["groups"].items():
        before = group["last"]["feed"] if group["last"] is not None else None
        for day, feed_id in _group_servings(tank, group_id, _served(document, tank_id)):
            others = [
                other for other_id, other in tank["feeds"].items() if other["group"] == group_id and other_id != feed_id
            ]
            count += feed_id == before and any(day in other["open"] for other in others)
            before = feed_id
    return count


def _longest_round(document: Document) -> float:
    minutes: dict[tuple[int, str], list[float]] = {}
    for serving in document["servings"]:
        feed = document["problem"]["tanks"][serving["tank"]]["feeds"][serving["feed"]]
        minutes.setdefault((serving["day"], feed["round"]), []).append(feed["minutes"])
    return max((math.fsum(found) for found in minutes.values()), default=0.0)


def _churn(document: Document) -> int:
    posted = document["problem"]["posted"]
    if not posted:
        return 0

    def first_days(servings: list[Document]) -> set[tuple[int, str, str]]:
        return {(s["day"], s["tank"], s["feed"]) for s in servings if s["day"] < min(7, document["days"])}

    return len(first_days(document["servings"]) ^ first_days(posted))
