"""All flags of a room, worst first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Final

from schedules.history import History
from schedules.review.flags.context import Context
from schedules.review.flags.deaths import deaths, deaths_in_rack
from schedules.review.flags.gaps import under_clock_gap, under_gap
from schedules.review.flags.handling import far_from_planned, past_date, powder_on_still, unaccompanied
from schedules.review.flags.leftovers import leftovers, leftovers_twice, raised_after_leftovers
from schedules.review.flags.readings import water_found
from schedules.review.flags.response import nobody_came
from schedules.review.flags.too_little import need_waiting, nothing_given
from schedules.review.flags.too_much import doubled, over_ration, week_over_target
from schedules.review.flags.types import RANK, Flag
from schedules.review.flags.water import ammonia_load
from schedules.room import Room

FAMILIES: Final[tuple[Callable[[Context], Iterator[Flag]], ...]] = (
    deaths,
    deaths_in_rack,
    water_found,
    need_waiting,
    over_ration,
    doubled,
    leftovers_twice,
    ammonia_load,
    nobody_came,
    far_from_planned,
    raised_after_leftovers,
    under_gap,
    under_clock_gap,
    nothing_given,
    leftovers,
    week_over_target,
    unaccompanied,
    powder_on_still,
    past_date,
)
"""Everything that is looked for, in the order in which flags of one severity and day are shown."""


def flags(room: Room, history: History, now: datetime, days_back: int = 7) -> tuple[Flag, ...]:
    """What is flagged today and on the `days_back` days before it, worst first, then newest, then in walking order.

    `now` is aware. Past days are judged by what was recorded on them and by the rules of the room as they are now.
    """
    today = room.day(now)
    context = Context(room, history, now, today - timedelta(days=days_back), today)
    place = {tank: number for number, tank in enumerate(room.walk)}
    found: dict[tuple[str, str, str | None, date], Flag] = {}
    for family in FAMILIES:
        for flag in family(context):
            before = found.get(flag.key)
            found[flag.key] = flag if before is None else _together(before, flag)
    return tuple(
        sorted(found.values(), key=lambda flag: (RANK[flag.severity], -flag.day.toordinal(), place[flag.tank]))
    )


def _together(earlier: Flag, later: Flag) -> Flag:
    """Two findings of one key as one flag: the evidence of the worse, of equals the later, and the extent of both.

    So whoever has seen the first of them also sees the second.
    """
    worse = min((later, earlier), key=lambda flag: (RANK[flag.severity], -flag.extent))
    return replace(worse, extent=earlier.extent + later.extent)
