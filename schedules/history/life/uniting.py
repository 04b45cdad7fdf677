"""Groups of one tank that nothing tells apart any more become one, so that a tank's past does not grow with the years.

Each pair is united on the first day on which both are settled, whenever that is worked out: so the same groups come
about however often the tank is looked at.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final, NamedTuple

from schedules.history.life.ages import SLOW
from schedules.history.life.values import Group

OLD_DAYS: Final = SLOW.adult + 1
"""From this age on the adults of one tank and line are one group, of the mean age of its heads."""
ONE_DAY: Final = timedelta(days=1)
_OLD: Final = timedelta(days=OLD_DAYS)


class Union(NamedTuple):
    """Two groups, by their places in the list, that become one on a day."""

    day: date
    one: int
    other: int


def next_union(groups: Sequence[Group]) -> Union | None:
    """The first two groups that become one if nothing is seen before."""
    settled: dict[tuple[object, ...], list[tuple[date, int]]] = {}
    for place, group in enumerate(groups):
        if group.turns is None and (since := _settled(group)) is not None:
            alike = group.stage, group.line, group.length, group.hatched is None
            settled.setdefault(alike, []).append((since, place))
    if all(len(those) == 1 for those in settled.values()):
        return None
    pairs = [sorted(those)[:2] for those in settled.values() if len(those) > 1]
    return min(Union(day, one, other) for (_, one), (day, other) in pairs)


def united(one: Group, other: Group, day: date) -> Group:
    """One group of two, from a day on. Its animals came with different entries, so it names none."""
    heads = one.heads + other.heads
    days = sum(each.heads * each.hatched.toordinal() for each in (one, other) if each.hatched is not None)
    return Group(
        stage=one.stage,
        heads=heads,
        since=day,
        hatched=date.fromordinal(days // heads) if days else None,
        line=one.line,
        length=one.length,
        goes_on=True,
    )


def _settled(group: Group) -> date | None:
    """The day from which nothing tells a group's animals apart from others of their kind; None where it is unknown.

    They do not grow up any more, or nobody knows when they will, no date ends them, and none of them were berried.
    Those of the file are also what it says of them, until they become more or fewer.
    """
    _, heads, since, _, place, hatched, turns, until, _, _, berried, goes_on = group
    if turns is not None or until is not None or berried or not heads or since is None or (place >= 0 and not goes_on):
        return None
    came = since + ONE_DAY
    return came if hatched is None else max(came, hatched + _OLD)
