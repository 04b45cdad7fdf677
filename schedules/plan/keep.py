"""What of an earlier plan still keeps the hard rules."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from schedules.plan.day_sets import group_gap
from schedules.problem.types import Problem, Slot, TankProblem
from schedules.rules import FULL_DAY, SHARE_TOLERANCE


def lawful(problem: Problem, slots: Iterable[Slot]) -> list[Slot]:
    """The slots, day by day, that break no hard rule beside those before them, in the order (day, tank, feed)."""
    by_tank: dict[str, list[Slot]] = defaultdict(list)
    for slot in sorted(set(slots)):
        if slot.tank in problem.tanks and slot.feed in problem.tanks[slot.tank].feeds:
            by_tank[slot.tank].append(slot)
    return sorted(slot for tank, found in by_tank.items() for slot in _of_tank(problem.tanks[tank], found))


def _of_tank(tank: TankProblem, slots: list[Slot]) -> list[Slot]:
    last = {name: feed.last for name, feed in tank.feeds.items()}
    group_last: dict[str, int | None] = {}
    for name, group in tank.groups.items():
        days = [day for feed in tank.feeds.values() if feed.group == name and (day := feed.last) is not None]
        group_last[name] = max([*days, *([group.last.day] if group.last else [])], default=None)
    shares: dict[int, float] = defaultdict(float)
    kept = []
    opened = {name: set(feed.open) for name, feed in tank.feeds.items()}
    for slot in slots:
        feed = tank.feeds[slot.feed]
        before = last[slot.feed]
        group_before = group_last.get(feed.group) if feed.group is not None else None
        if (
            slot.day in opened[slot.feed]
            and (before is None or slot.day - before >= max(feed.min_gap, 1))
            and (feed.group is None or group_before is None or slot.day - group_before >= group_gap(tank, feed.group))
            and shares[slot.day] + feed.share <= FULL_DAY + SHARE_TOLERANCE
        ):
            kept.append(slot)
            last[slot.feed] = slot.day
            shares[slot.day] += feed.share
            if feed.group is not None:
                group_last[feed.group] = slot.day
    return kept
