"""To which of the room's dates a moment belongs: a round that crosses midnight keeps the date it began on."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

INTO_THE_NIGHT: Final = timedelta(hours=4)
"""For how long after it began a round that crosses midnight is still walked under its own date."""


def feeding_day(now: datetime, zone: ZoneInfo, rounds: Sequence[time]) -> date:
    """The room's date that a feeding at `now` (aware) counts on: the date of the zone, but of a round's beginning.

    A round that began before midnight keeps its date for `INTO_THE_NIGHT` after it began, unless the next day's first
    round has begun meanwhile. Wall-clock times are compared, so a change of daylight saving moves nothing.
    """
    here = now.astimezone(zone).replace(tzinfo=None)
    yesterday = here.date() - timedelta(days=1)
    latest = max(rounds, default=time.min)
    under_way = here < datetime.combine(yesterday, latest) + INTO_THE_NIGHT
    return yesterday if under_way and here.time() < min(rounds, default=time.min) else here.date()
