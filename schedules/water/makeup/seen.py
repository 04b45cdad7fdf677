"""What has built up in a tank by all that was poured in on top since its water was last changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final, NamedTuple

from schedules.history import History
from schedules.ledger import SaltAdded, WaterAdded, WaterChanged
from schedules.room import Room, Tank
from schedules.room.water.rules import Band
from schedules.water.makeup.build_up import Poured, built_up, days_left, steady_part
from schedules.water.makeup.known import minerals_of, salt_minerals
from schedules.water.makeup.minerals import PURE, Dissolved, Minerals

LEAST_DAYS: Final = 14
"""Over fewer days a rise by the month says little. Common practice, no source."""
MONTH: Final = 30
WEEK: Final = 7


@dataclass(frozen=True, slots=True)
class BuildUp:
    """What topping off has brought into a full tank since a day, without anything having been changed since.

    `rise` is the sum, `monthly` by 30 days (None before `LEAST_DAYS`). `leaves` is the day on which a quantity leaves
    its band at that pace; `weekly` the part to change each week for the usual water so that it settles within.
    """

    since: date
    litres: float
    rise: Minerals
    monthly: Minerals | None
    leaves: Mapping[Dissolved, date]
    weekly: Mapping[Dissolved, float]


def build_up(
    room: Room,
    history: History,
    tank: Tank,
    day: date,
    now: Minerals,
    bands: Mapping[Dissolved, Band],
    usual: Minerals,
) -> BuildUp | None:
    """What has built up until a day; None where nothing was poured in since the last change of water."""
    brought = _brought(room, history, tank, day)
    if not any(each.litres for each in brought):
        return None
    start = brought[0].day
    litres = sum(each.litres for each in brought)
    rise = built_up(tank.litres, (each.poured for each in brought))
    days = (day - start).days
    if days < LEAST_DAYS:
        return BuildUp(start, litres, rise, None, {}, {})
    # What was poured in on the first day made up for days before it.
    later = built_up(tank.litres, (each.poured for each in brought if each.day > start))
    daily = Minerals(*(None if each is None else each / days for each in later))
    monthly = Minerals(*(None if each is None else each * MONTH for each in daily))
    return BuildUp(start, litres, rise, monthly, _leaves(day, now, bands, daily), _weekly(bands, daily, usual))


class _Brought(NamedTuple):
    """What one act brought into a tank; `litres` only of water that was poured in on top."""

    day: date
    litres: float
    poured: Poured


def _brought(room: Room, history: History, tank: Tank, day: date) -> list[_Brought]:
    """Everything that was brought into a tank on top until a day, since its water was last changed."""
    found: list[_Brought] = []
    for entry in history.water_of(tank.id):
        if entry.day > day:
            continue
        match entry.what:
            case WaterChanged():
                found = [_Brought(entry.day, 0.0, Poured(0.0, PURE))]
            case WaterAdded(litres=litres, source=source):
                found.append(_Brought(entry.day, litres, Poured(litres, minerals_of(room, source))))
            case SaltAdded(salt=salt, grams=grams):
                # A gram raises one litre by so much, so grams stand where litres of a water stand.
                found.append(_Brought(entry.day, 0.0, Poured(grams, salt_minerals(room, salt))))
    return found


def _leaves(day: date, now: Minerals, bands: Mapping[Dissolved, Band], daily: Minerals) -> dict[Dissolved, date]:
    found: dict[Dissolved, date] = {}
    for quantity, band in bands.items():
        value, rise = now.of(quantity), daily.of(quantity)
        if value is not None and rise is not None and rise > 0 and band.high is not None:
            left = days_left(value, band.high, rise)
            if left < (date.max - day).days:
                found[quantity] = day + timedelta(days=int(left))
    return found


def _weekly(bands: Mapping[Dissolved, Band], daily: Minerals, water: Minerals) -> dict[Dissolved, float]:
    found: dict[Dissolved, float] = {}
    for quantity, band in bands.items():
        rise, holds = daily.of(quantity), water.of(quantity)
        if rise is not None and holds is not None and band.high is not None:
            part = steady_part(rise * WEEK, band.high, holds)
            if part:
                found[quantity] = part
    return found
