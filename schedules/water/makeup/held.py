"""What a tank holds by its last readings and all that was poured in, changed or dissolved since."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from schedules.ledger import Entry, Reading, SaltAdded, WaterAdded, WaterChanged
from schedules.room import Room, Tank
from schedules.water.chemistry.conductivity import solids_of
from schedules.water.makeup.known import minerals_of, salt_minerals
from schedules.water.makeup.minerals import Dissolved, Minerals, TankWater


@dataclass(frozen=True, slots=True)
class Held:
    """A value and its day: of a reading, or (`full`) of the full tank after the last thing that was done since."""

    value: float
    day: date | None
    full: bool


def held(room: Room, tank: Tank, entries: Sequence[Entry], quantity: Dissolved) -> Held | None:
    """What a tank holds of a quantity after entries about its water, in their order; None where nobody knows.

    Without a reading the room file's value stands for one before all entries.
    """
    read = [number for number, entry in enumerate(entries) if reading_of(room, entry, quantity) is not None]
    value = reading_of(room, entries[read[-1]], quantity) if read else getattr(tank.water, quantity)
    later = [entry for entry in entries[read[-1] + 1 if read else 0 :] if not isinstance(entry.what, Reading)]
    day = entries[read[-1]].day if read else None
    if value is None or not later:
        return None if value is None else Held(value, day, full=False)
    after = when_full(room, tank, value, day, later, quantity)
    return None if after is None else Held(after, later[-1].day, full=True)


def when_full(
    room: Room, tank: Tank, value: float, day: date | None, acts: Sequence[Entry], quantity: Dissolved
) -> float | None:
    """What a full tank holds after some acts, from what was read on a day before them; None where a water is unknown.

    The tank is taken to be full after each top-off. What was topped off on the day of the reading was gone when it was
    read; what was topped off later had gone since.
    """
    water = TankWater(tank.litres, Minerals(**{quantity: value}))
    first = acts[0]
    if isinstance(first.what, WaterAdded) and first.day == day and first.what.litres < tank.litres:
        water = TankWater(tank.litres - first.what.litres, water.minerals)
    for entry in acts:
        water = _after(room, tank, water, entry)
    return water.minerals.of(quantity)


def _after(room: Room, tank: Tank, water: TankWater, entry: Entry) -> TankWater:
    match entry.what:
        case WaterAdded(litres=litres, source=source):
            gone = min(litres - (tank.litres - water.litres), tank.litres / 2)
            water = water.evaporated(gone) if gone > 0 else water
            return TankWater(tank.litres, water.poured(litres, minerals_of(room, source)).minerals)
        case WaterChanged(litres=litres, source=source):
            new = minerals_of(room, source)
            return water.changed(litres, new) if litres < water.litres else TankWater(water.litres, new)
        case SaltAdded(salt=salt, grams=grams):
            return water.salted(grams, salt_minerals(room, salt))
    return water


def reading_of(room: Room, entry: Entry, quantity: Dissolved) -> float | None:
    """The value of a reading of a quantity, solids also by conductivity; None where an entry is no such reading."""
    what = entry.what
    if not isinstance(what, Reading):
        return None
    if what.quantity == quantity:
        return what.value
    return (
        solids_of(what.value, room.water.tds_factor) if (what.quantity, quantity) == ("conductivity", "tds") else None
    )
