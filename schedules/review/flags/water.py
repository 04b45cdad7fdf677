"""More feed in a day than the water could bear if nothing took it away."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from schedules.amounts import days_load, watched_days
from schedules.formatting import date_text
from schedules.review.flags.look import Look
from schedules.review.flags.types import Flag


def ammonia_load(look: Look) -> Iterator[Flag]:
    """Days whose feed, left to rot, would bring more ammonia than the chronic criterion; worse if even when eaten."""
    for tank in look.tanks():
        for day in look.days:
            load = days_load(look.room, look.history, tank, day, watched_days(tank, day))
            if load.left <= load.chronic:
                continue
            taken = "" if load.measured else ", taken as such"
            yield Flag(
                "ammonia_load",
                "high" if load.eaten > load.chronic else "medium",
                tank.id,
                None,
                day,
                f"{_span(load.days, day)} would bring {load.eaten:.2g} mg/L of ammonia nitrogen if eaten, "
                f"{load.left:.2g} if left, with no filter; the chronic limit (EPA 2013) is {load.chronic:.2g} "
                f"(pH {load.ph:.1f}, {load.celsius:.1f} °C{taken})",
                "Take out solid leftovers, no fine feed for two days, add air; measure ammonia before the next feed.",
                load.left,
            )


def _span(days: int, day: date) -> str:
    return f"the feed of {date_text(day)}" if days == 1 else f"the feed of the {days} days up to {date_text(day)}"
