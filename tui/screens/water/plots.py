"""One quantity of a tank as a plot: the tank, its rack, targets and limits, feedings and what was done to the water."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Final

from schedules.history import LOOK_BACK_DAYS, History
from schedules.ledger import Entry, Reading, Served, WaterAdded, WaterChanged
from schedules.room import Room, Tank
from schedules.room.water.quantities import QUANTITIES, Quantity, to_keeper, unit_of
from schedules.room.water.rules import Band
from schedules.water.readings import daily, series, water_acts
from schedules.wording.water.amounts import band_text
from tui.widgets.plots.values import DatedPlot, Events, Level, Series

DAYS: Final = 56
"""How far back a plot goes, at most; it begins with the first reading."""
LEAST: Final = 14
FED: Final = f"fed (last {LOOK_BACK_DAYS // 7} weeks)"
NOON: Final = time(12)


def quantity_plot(room: Room, history: History, tank: Tank, quantity: Quantity, today: date) -> DatedPlot:
    """The last eight weeks of a quantity, in the keeper's units."""
    points = {each: _points(room, history, each, quantity, today) for each in _rack_of(room, tank)}
    firsts = [each[0][0].date() for each in points.values() if each]
    begin = min([today - timedelta(days=LEAST), *firsts])
    first, last = (datetime.combine(day, at, room.zone) for day, at in ((begin, time()), (today, time(23, 59))))
    others = tuple(
        Series(f"others of rack {tank.rack}", "·", "$quiet", each)
        for name, each in points.items()
        if each and name != tank.id
    )
    own = Series(tank.id, "●", "$accent", points[tank.id], "•")
    name, unit = QUANTITIES[quantity].name, unit_of(quantity, room.units)
    head = f"{name}, {unit}" if unit else name
    levels = tuple(_levels(room, tank, quantity))
    return DatedPlot(first, last, head, (*others, own), levels, tuple(_events(room, history, tank, begin, today)))


def _rack_of(room: Room, tank: Tank) -> tuple[str, ...]:
    """The tanks of a tank's rack, the tank itself among them."""
    return tuple(each for each in room.tanks if room.tanks[each].rack == tank.rack)


def _noon(room: Room, day: date) -> datetime:
    return datetime.combine(day, NOON, room.zone)


def _points(
    room: Room, history: History, tank: str, quantity: Quantity, today: date
) -> tuple[tuple[datetime, float], ...]:
    read = (
        (_moment(room, value.entry), to_keeper(quantity, value.value, room.units))
        for value in daily(series(history, tank, quantity))
        if value.entry is not None
    )
    return tuple(point for point in read if today - timedelta(days=DAYS) <= point[0].date() <= today)


def _moment(room: Room, entry: Entry) -> datetime:
    """When something was read or done; by the day alone where it was written down on another one."""
    what, at = entry.what, entry.at.astimezone(room.zone)
    if isinstance(what, Reading) and what.time is not None:
        return datetime.combine(entry.day, time.fromisoformat(what.time), room.zone)
    return at if at.date() == entry.day else _noon(room, entry.day)


def _levels(room: Room, tank: Tank, quantity: Quantity) -> Iterator[Level]:
    band = tank.bands.get(quantity)
    if band is None:
        return
    low, high, lowest, highest = (
        None if value is None else to_keeper(quantity, value, room.units)
        for value in (band.low, band.high, band.lowest, band.highest)
    )
    if (low, high) != (None, None):
        yield Level(f"target {band_text(quantity, band, room.units)}", "─", "$success", low, high)
    if (lowest, highest) != (None, None):
        text = band_text(quantity, Band(band.lowest, band.highest), room.units)
        yield Level(f"limit {text}", "=", "$error", lowest, highest)


def _events(room: Room, history: History, tank: Tank, first: date, today: date) -> Iterator[Events]:
    entries = [entry for entry in history.entries if isinstance(entry.what, Served) and entry.what.tank == tank.id]
    acts = water_acts(history, tank.id)
    kinds: tuple[tuple[str, str, str, list[Entry]], ...] = (
        (FED, "f", "$quiet", entries),
        ("topped off", "t", "$primary", [each for each in acts if isinstance(each.what, WaterAdded)]),
        ("water changed", "w", "$primary", [each for each in acts if isinstance(each.what, WaterChanged)]),
    )
    for name, sign, colour, found in kinds:
        at = (_moment(room, entry) for entry in found)
        yield Events(name, sign, colour, tuple(each for each in at if first <= each.date() <= today))
