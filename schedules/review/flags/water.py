"""More feed in a day than the water could stand if nothing took it away."""

from __future__ import annotations

from collections.abc import Iterator

from schedules.amounts import DROP_TEST, days_load, watched_days
from schedules.review.flags.context import Context
from schedules.review.flags.types import Flag


def ammonia_load(context: Context) -> Iterator[Flag]:
    """Days whose feed, left to rot, would bring more ammonia than the chronic criterion; worse if even when eaten.

    Where there is young, or in quarantine, several days count, and what a drop test would show of it is worst.
    """
    for tank in context.tanks():
        for day in context.days:
            load = days_load(context.room, context.history, tank, day, watched_days(tank, day))
            shows = load.days > 1 and load.eaten >= DROP_TEST
            if load.left <= load.chronic and not shows:
                continue
            yield Flag(
                "ammonia_load",
                "high" if shows or load.eaten > load.chronic else "medium",
                tank.id,
                None,
                day,
                load,
                "clear_and_test",
                load.left,
            )
