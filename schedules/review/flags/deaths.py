"""Deaths that are too many for chance: several in one tank within a week, or in two tanks of a rack."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Final

from schedules.ledger.entries import Entry, Sighting
from schedules.review.flags.context import Context
from schedules.review.flags.evidence import Deaths
from schedules.review.flags.response import rack_mates
from schedules.review.flags.types import Flag, FlagKind
from schedules.room import Tank

MANY: Final = 3
"""So many dead in a tank within a week are flagged. Common practice, no source."""
WEEK_DAYS: Final = 7


def deaths(context: Context) -> Iterator[Flag]:
    """Tanks in which three or more were found dead within the week up to the newest death."""
    for tank in context.tanks():
        found = _deaths(context, tank)
        for last in sorted({entry.day for entry in found}, reverse=True):
            week = [entry for entry in found if 0 <= (last - entry.day).days < WEEK_DAYS]
            if context.within(last) and _heads(week) >= MANY:
                yield _flag("deaths", tank, last, week)
                break


def deaths_in_rack(context: Context) -> Iterator[Flag]:
    """Tanks with deaths less than a week away from deaths in another tank of their rack."""
    for tank in context.tanks():
        own = _deaths(context, tank)
        if not own:
            continue
        newest = own[-1].day
        rack = (context.room.tanks[each] for each in rack_mates(context.room, tank.id))
        near = [found for mate in rack for found in _deaths(context, mate)]
        near = sorted(
            (each for each in near if abs((newest - each.day).days) < WEEK_DAYS), key=lambda each: (each.day, each.seq)
        )
        if len({_dead(entry).tank for entry in near}) > 1 and context.within(near[-1].day):
            yield _flag("deaths_in_rack", tank, near[-1].day, near)


def _flag(kind: FlagKind, tank: Tank, day: date, found: Iterable[Entry]) -> Flag:
    entries = tuple(found)
    heads = _heads(entries)
    return Flag(kind, "high", tank.id, None, day, Deaths(entries, heads), "look_what_changed", heads)


def _deaths(context: Context, tank: Tank) -> list[Entry]:
    """Deaths in a tank within the history, by day."""
    days = (day for day in context.history.days() if day <= context.today)
    return [
        entry
        for day in days
        for entry in context.history.about(tank.id, day)
        if isinstance(entry.what, Sighting) and entry.what.saw == "dead"
    ]


def _heads(entries: Iterable[Entry]) -> int:
    return sum(_dead(entry).heads for entry in entries)


def _dead(entry: Entry) -> Sighting:
    assert isinstance(entry.what, Sighting)
    return entry.what
