"""What a week's feed came to: mass planned and given at each table, beside the ration of those days."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from schedules.amounts.ration import daily_ration
from schedules.history import History
from schedules.ledger import PostedServing, Served
from schedules.room import Room
from schedules.room.kinds import Table

TABLES: Final[tuple[Table, ...]] = ("fine", "ground", "fan")


@dataclass(frozen=True, slots=True)
class Delivered:
    """One table over a week, dry feed in mg, extras left out.

    `planned_mg` was due, `given_mg` was given. `ration_mg` adds up the day's ration of every tank on every day on which
    it was given anything there: the largest where several feeds have different ones. `tank_days` counts those.
    """

    table: Table
    planned_mg: float
    given_mg: float
    ration_mg: float
    tank_days: int


def delivered_at(room: Room, history: History, table: Table, days: Sequence[date]) -> Delivered:
    """What was planned and given at a table on some days."""
    planned = given = ration = 0.0
    tank_days = 0
    for day in days:
        for tank in room.walk:
            planned += _mass(room, table, history.due_in(tank, day))
            served = [what for _, what in history.served_on(tank, day) if _at(room, table, what.feed)]
            if served:
                given += sum(what.amount_mg for what in served)
                feeds = {what.feed for what in served}
                ration += max(daily_ration(room.tanks[tank], room.feeds[feed], day, room).mg for feed in feeds)
                tank_days += 1
    return Delivered(table, planned, given, ration, tank_days)


def _mass(room: Room, table: Table, servings: Iterable[PostedServing | Served]) -> float:
    return sum(each.amount_mg for each in servings if _at(room, table, each.feed))


def _at(room: Room, table: Table, feed: str) -> bool:
    known = room.feeds.get(feed)
    return known is not None and known.table == table and not known.extra
