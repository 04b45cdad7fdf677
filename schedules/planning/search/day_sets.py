"""What fits a day: the sets of sorts that may be given to a unit on one day."""

from __future__ import annotations

from collections.abc import Mapping

from schedules.planning.problem.types import Clock
from schedules.planning.problem.weights import FULL_DAY, TOLERANCE
from schedules.planning.search.sorts import Sort
from schedules.planning.search.units import Unit

MOST_SETS = 256
"""More sets than this are not looked at: a search through them would take seconds for one tank. Ordinary tanks have 20
to 100; a tank of many tiny shares loses its fullest days, and the room its proven bound."""

DaySet = tuple[int, ...]
"""Places of sorts, ascending."""


def day_sets(unit: Unit, sorts: list[Sort], clocks: Mapping[str, Clock]) -> tuple[list[DaySet], bool]:
    """The sets of sorts that fit a day, the empty one first, smaller ones before larger, and whether these are all."""
    found: list[DaySet] = [()]
    grown: list[DaySet] = [()]
    while grown:
        grown = [
            (*members, place)
            for members in grown
            for place in range(members[-1] + 1 if members else 0, len(sorts))
            if _fits(unit, [*(sorts[member] for member in members), sorts[place]], clocks)
        ]
        if len(found) + len(grown) > MOST_SETS:
            return [*found, *grown[: MOST_SETS - len(found)]], False
        found += grown
    return found, True


def _fits(unit: Unit, sorts: list[Sort], clocks: Mapping[str, Clock]) -> bool:
    """Whether the last of some sorts may be given beside the others."""
    new = sorts[-1].feeds[0]
    table = unit.feeds[new].table
    shares = sum(feed.share for sort in sorts if (feed := unit.feeds[sort.feeds[0]]).table == table)
    if shares > FULL_DAY + TOLERANCE and unit.feeds[new].share > 0:
        return False
    others = {sort.feeds[0] for sort in sorts[:-1]}
    return not any(clock.min_gap >= 1 and new in clock.feeds and others & set(clock.feeds) for clock in clocks.values())
