"""What a serving takes of its table's ration of a day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping

from schedules.planning.problem.types import PlanFeed, Problem, Slot, Table
from schedules.planning.problem.weights import FULL_DAY


def parts(problem: Problem, slots: Iterable[Slot]) -> dict[Slot, float]:
    """For each serving the part (0 to 1) it takes of its table's ration of the day."""
    tables: dict[tuple[int, str, Table], dict[str, PlanFeed]] = defaultdict(dict)
    listed = tuple(slots)
    for day, tank, feed in listed:
        planned = problem.tanks[tank].feeds[feed]
        tables[day, tank, planned.table][feed] = planned
    found = {
        Slot(day, tank, feed): part
        for (day, tank, _), feeds in tables.items()
        for feed, part in parts_of_a_table(feeds).items()
    }
    return {slot: found[slot] for slot in listed}


def parts_of_a_table(feeds: Mapping[str, PlanFeed]) -> dict[str, float]:
    """The parts of one table's servings on one day.

    They start from their shares and are raised by one common factor until they add up to 1; a serving that reaches its
    `most` stays there and the others go on. What has no share takes nothing.
    """
    found = dict.fromkeys(feeds, 0.0)
    rising = {name: feed for name, feed in feeds.items() if feed.share > 0}
    left = FULL_DAY
    while rising:
        factor = max(1.0, left / sum(feed.share for feed in rising.values()))
        full = {name: feed for name, feed in rising.items() if feed.share * factor >= feed.most}
        if not full:
            return found | {name: feed.share * factor for name, feed in rising.items()}
        found |= {name: feed.most for name, feed in full.items()}
        left -= sum(feed.most for feed in full.values())
        rising = {name: feed for name, feed in rising.items() if name not in full}
    return found
