"""What feed would bring into a tank if nothing took it away: a statement about load, no promise of safety."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

from schedules.history import History
from schedules.room import Feed, Room, Tank
from schedules.water.chemistry.ammonia import unionised_part
from schedules.water.chemistry.criteria import acute_criterion, chronic_criterion
from schedules.water.derived import water_on

NITROGEN_IN_PROTEIN: Final = 0.16
"""Feed nitrogen is protein ÷ 6.25, the usual factor of feed analysis."""
AMMONIA_IF_EATEN: Final = 0.092
"""Ammonia nitrogen by feed protein where the feed is eaten: 0.16 × 0.8 × 0.8 × 0.9 (Timmons and Ebeling,
Recirculating Aquaculture, quoted at second hand). A figure for fish; none for these animals was found."""
AMMONIA_IF_LEFT: Final = NITROGEN_IN_PROTEIN
"""Ammonia nitrogen by feed protein at worst, where all of it rots."""
USUAL_PH: Final = 8.0
USUAL_CELSIUS: Final = 26.0
"""Taken where a tank was never measured: on the warm and alkaline side, where ammonia is worse."""
SEVERAL_DAYS: Final = 3
"""So long feed that is not eaten is taken to go on giving off ammonia. Common practice, no source."""
DROP_TEST: Final = 0.5
"""mg/L of ammonia nitrogen that the usual drop test shows without doubt. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Load:
    """Total ammonia nitrogen that feed would bring, mg/L of the tank's volume, if eaten and if all of it were left.

    `chronic` and `acute` are the EPA 2013 criteria at the tank's `ph` and `celsius`, in mg/L of the same;
    `unionised` the part that is un-ionised there; `measured` whether both were measured in this tank. It is added
    up over `days` days, with no filter, no plants and no change of water.
    """

    eaten: float
    left: float
    chronic: float
    acute: float
    unionised: float
    ph: float
    celsius: float
    measured: bool
    days: int = 1


def feed_load(tank: Tank, feeds: Iterable[tuple[Feed, float]], days: int = 1) -> Load:
    """The load of masses of feed (mg) in a tank."""
    protein = sum(feed.protein * mg for feed, mg in feeds)
    ph = USUAL_PH if tank.water.ph is None else tank.water.ph
    celsius = USUAL_CELSIUS if tank.water.temperature is None else tank.water.temperature
    return Load(
        protein * AMMONIA_IF_EATEN / tank.litres,
        protein * AMMONIA_IF_LEFT / tank.litres,
        chronic_criterion(ph, celsius),
        acute_criterion(ph, celsius),
        unionised_part(ph, celsius),
        ph,
        celsius,
        tank.water.ph is not None and tank.water.temperature is not None,
        days,
    )


def days_load(room: Room, history: History, tank: Tank, day: date, days: int = SEVERAL_DAYS) -> Load:
    """The load of everything given on a day and the days before it, `days` in all, as the ledger has it.

    Feeds no longer in stock are left out. pH and temperature are those read last up to that day.
    """
    given = (
        what
        for back in range(days)
        for _, what in history.served_on(tank.id, day - timedelta(days=back))
        if what.feed in room.feeds
    )
    tank = replace(tank, water=water_on(history, tank, day))
    return feed_load(tank, ((room.feeds[what.feed], what.amount_mg) for what in given), days)


def watched_days(tank: Tank, day: date) -> int:
    """Over how many days a tank's load is looked at: several where it holds young or is in quarantine, else one."""
    return SEVERAL_DAYS if tank.quarantine or tank.count("shrimplet", day) > 0 else 1
