"""What the watch finds in a room: read off the history, rack by rack and tank by tank."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from functools import partial
from itertools import pairwise
from operator import is_

from schedules.history import History
from schedules.ledger.entries import Reading, SaltAdded, WaterAdded, WaterChanged
from schedules.room import Room, Tank
from schedules.room.water.quantities import QUANTITIES, Quantity
from schedules.water.derived import ammonia_of
from schedules.water.makeup.known import value_in
from schedules.water.readings import Value, daily, latest, read_quantities, series
from schedules.water.watch.findings import Done, Event, Finding, Read, Series
from schedules.water.watch.rack import RackWatch
from schedules.water.watch.settings import AHEAD_DAYS, ENOUGH, NEAR_DAYS
from schedules.water.watch.shared import put_together
from schedules.water.watch.trend import Trend, trend_of

Holds = Callable[[str | None], float | None]
"""What a water holds of the quantity that is looked at, by its id (None for pure water); None where nobody knows."""


def nothing_known(_source: str | None) -> float | None:
    """Of no water anything is known."""
    return None


def watched(history: History, tank: Tank, quantity: Quantity, today: date, holds: Holds = nothing_known) -> Series:
    """What was read of a quantity in a tank up to a day, the last of each day, among what was done to its water."""
    reads = {value.entry.seq: value for value in daily(series(history, tank.id, quantity)) if value.entry is not None}
    events = (
        _event(entry.what, entry.day, tank, quantity, entry.seq in reads, holds) for entry in history.water_of(tank.id)
    )
    return tuple(event for event in events if event is not None and event.day <= today)


def room_findings(room: Room, history: History, today: date) -> tuple[Finding, ...]:
    """Everything found in the readings up to a day, newest first, then in walking order."""
    found = list(_of_racks(room, history, today))
    found += [finding for tank in room.walk for finding in tank_findings(history, room.tanks[tank], today)]
    place = {tank: number for number, tank in enumerate(room.walk)}
    order = {quantity: number for number, quantity in enumerate(QUANTITIES)}
    known = (finding for finding in found if finding.tank in place)
    return tuple(sorted(known, key=lambda each: (-each.day.toordinal(), place[each.tank], order[each.quantity])))


def rack_findings(room: Room, history: History, rack: str, today: date) -> tuple[Finding, ...]:
    """Steps and drifts in the tanks of a rack, each found once, also those that it has in common with other racks."""
    return tuple(
        finding
        for finding in _of_racks(room, history, today)
        if any(room.tanks[tank].rack == rack for tank in (finding.tank, *finding.tanks))
    )


def _of_racks(room: Room, history: History, today: date) -> tuple[Finding, ...]:
    """Steps and drifts of all racks; looked for again only after an entry about the water, and then in its rack alone.

    So a mark costs nothing here, however much was read, and nor does a room that has but one of the tanks in its walk.
    """

    def find() -> tuple[Finding, ...]:
        racks: dict[str, list[Tank]] = {}
        for tank in room.tanks.values():
            racks.setdefault(tank.rack, []).append(tank)
        return put_together(
            room, (each for rack, tanks in racks.items() for each in _of_rack(room, history, rack, tanks, today))
        )

    return _kept(history, ("water", today), (history.water, room.tanks, room.waters, room.water), find)


def _of_rack(room: Room, history: History, rack: str, tanks: Sequence[Tank], today: date) -> tuple[Finding, ...]:
    """What is found in one rack by itself."""
    of_tanks = (each for tank in tanks for each in (history.water_of(tank.id), tank.bands, tank.litres))
    made_of = (room.waters, room.water, *of_tanks)
    return _kept(history, ("water", rack, today), made_of, lambda: tuple(_rack_findings(room, history, tanks, today)))


def _kept(
    history: History, key: tuple[object, ...], made_of: tuple[object, ...], find: Callable[[], tuple[Finding, ...]]
) -> tuple[Finding, ...]:
    """What was found before, as long as it is made of the very same things: entries and rooms never change."""
    kept: dict[object, tuple[tuple[object, ...], tuple[Finding, ...]]] = history.lookups.kept
    known = kept.get(key)
    if known is not None and len(known[0]) == len(made_of) and all(map(is_, known[0], made_of)):
        return known[1]
    found = find()
    kept[key] = made_of, found
    return found


def tank_findings(history: History, tank: Tank, today: date) -> Iterator[Finding]:
    """What the latest readings of a tank say of its targets and limits, and what its trends lead to."""
    for quantity in read_quantities(history, tank.id):
        newest = latest(history, tank, quantity, today)
        if newest is None or newest.day is None:
            continue
        beyond = _beyond(tank, quantity, newest, newest.day)
        if beyond is not None:
            yield beyond
        elif (leaving := _leaving(history, tank, quantity, today)) is not None:
            yield leaving
    ammonia = ammonia_of(history, tank, today)
    if ammonia is not None and ammonia.total.day is not None and ammonia.total.value > ammonia.chronic:
        yield Finding("ammonia", tank.id, "ammonia", ammonia.total.day, ammonia.total.value, bound=ammonia.chronic)


def trend(history: History, tank: Tank, quantity: Quantity, today: date) -> Trend | None:
    """How fast a quantity rises or falls in a tank; None for too few readings."""
    return trend_of(watched(history, tank, quantity, today), tank.bands.get(quantity), today)


def too_few(history: History, tank: Tank, quantity: Quantity, today: date) -> bool:
    """Whether too little was read of a quantity for its tank's own past to say anything."""
    return sum(isinstance(event, Read) for event in watched(history, tank, quantity, today)) < ENOUGH


def _rack_findings(room: Room, history: History, tanks: Iterable[Tank], today: date) -> Iterator[Finding]:
    listed = list(tanks)
    for quantity in QUANTITIES:
        holds = partial(value_in, room, quantity)
        events = {tank.id: watched(history, tank, quantity, today, holds) for tank in listed}
        read = {tank: each for tank, each in events.items() if any(isinstance(event, Read) for event in each)}
        if read:
            yield from RackWatch(quantity).findings(read)
            for tank in listed:
                yield from _swings(tank, quantity, read.get(tank.id, ()))


def _swings(tank: Tank, quantity: Quantity, events: Series) -> Iterator[Finding]:
    """Changes of the keeper's own `daily` size, a day's worth or more for each day between two readings."""
    band = tank.bands.get(quantity)
    if band is None or band.daily is None:
        return
    reads = [event for event in events if isinstance(event, Read)]
    for earlier, later in pairwise(reads):
        days = (later.day - earlier.day).days
        if days <= NEAR_DAYS and abs(later.value - earlier.value) > band.daily * max(days, 1) + 1e-9:
            yield Finding("swing", tank.id, quantity, later.day, later.value, earlier.value, earlier.day, band.daily)


def _event(what: object, day: date, tank: Tank, quantity: Quantity, counts: bool, holds: Holds) -> Event | None:
    match what:
        case Reading() if what.quantity == quantity and counts:
            return Read(day, what.value)
        case WaterAdded() | WaterChanged() if quantity != "temperature":
            part = min(what.litres / tank.litres, 1.0)
            return Done(day, part, holds(what.source), added=isinstance(what, WaterAdded))
        case SaltAdded() if quantity != "temperature":
            return Done(day, dose=True)
    return None


def _beyond(tank: Tank, quantity: Quantity, newest: Value, day: date) -> Finding | None:
    band = tank.bands.get(quantity)
    if band is None:
        return None
    value = newest.value
    for kind, low, high in (("limit", band.lowest, band.highest), ("target", band.low, band.high)):
        bound = low if low is not None and value < low else high if high is not None and value > high else None
        if bound is not None:
            return Finding("limit" if kind == "limit" else "target", tank.id, quantity, day, value, bound=bound)
    return None


def _leaving(history: History, tank: Tank, quantity: Quantity, today: date) -> Finding | None:
    found = trend(history, tank, quantity, today)
    if found is None or found.until is None or (found.until - found.day) > timedelta(days=AHEAD_DAYS):
        return None
    made = Finding("leaving", tank.id, quantity, found.day, found.line.at(0.0), since=found.first, bound=found.bound)
    return replace(made, slope=found.line.slope, until=found.until, count=found.count)
