"""The room file's animals as groups: where their age is known, they grow up like the young of a hatch.

The age is known of a line with `hatched`, of one with `length` and `from`, and of shrimplets with `from`. A line with
`to` holds as written until then, and so does one of unknown age, for as long as it stands in the file.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from schedules.history.life.ages import SLOW, ages_at
from schedules.history.life.curve import age_at, is_cool
from schedules.history.life.values import Group
from schedules.room import Presence, Tank
from schedules.room.kinds import Stage

YOUNG: Final[frozenset[Stage]] = frozenset(("shrimplet", "juvenile"))


def groups_of_file(tank: Tank) -> Iterator[Group]:
    """A group for each line of animals of a tank."""
    celsius = tank.water.temperature
    for place, here in enumerate(tank.animals):
        hatched = hatch_day(here, celsius)
        yield Group(
            stage=here.stage,
            heads=here.count,
            since=here.first,
            place=place,
            hatched=here.hatched if hatched is None else hatched,
            turns=None if hatched is None else _turns(here, hatched, celsius),
            until=here.last,
            length=here.length,
            berried=here.berried,
        )


def grow_up(tank: Tank) -> bool:
    """Whether any of a tank's animals in the file grow up by themselves."""
    return any(hatch_day(here, tank.water.temperature) is not None for here in tank.animals)


def hatch_day(here: Presence, celsius: float | None) -> date | None:
    """The day on which a line's animals hatched, where that is known and they grow up by it."""
    if here.stage not in YOUNG or here.last is not None:
        return None
    if here.hatched is not None:
        return here.hatched
    if here.first is None:
        return None
    if here.length is None:
        return here.hatch_day
    age = age_at(here.length, slow=is_cool(celsius))
    return None if age is None else here.first - timedelta(days=round(age))


def _turns(here: Presence, hatched: date, celsius: float | None) -> date | None:
    """The day on which they pass to the next stage, which is after `from`: then the file has them in this one.

    None where they are older than any at that stage: they stay as written.
    """
    ages = ages_at(celsius)
    ways = (ages.juvenile, SLOW.juvenile) if here.stage == "shrimplet" else (ages.adult, SLOW.adult)
    days = (hatched + timedelta(days=age) for age in ways)
    return next((day for day in days if here.first is None or day > here.first), None)
