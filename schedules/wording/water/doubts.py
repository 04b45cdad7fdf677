"""What speaks against a reading or an addition, in one sentence that says what may have been meant."""

from __future__ import annotations

from schedules.formatting import date_text, day_text
from schedules.room import Room
from schedules.room.units import number_text, volume_text
from schedules.room.water.quantities import QUANTITIES, Quantity, to_keeper, unit_of, value_text
from schedules.session.doubts.water import WaterDoubt


def water_doubt_text(room: Room, doubt: WaterDoubt) -> str:
    """What speaks against a reading, or against what was poured in."""
    if doubt.quantity is None:
        return f"{doubt.tank}: {_amount_text(room, doubt)}"
    return f"{doubt.tank}: {_reading_text(room, doubt, doubt.quantity)}"


def _reading_text(room: Room, doubt: WaterDoubt, quantity: Quantity) -> str:
    said = f"{QUANTITIES[quantity].name} {_as_typed(room, quantity, doubt.value)}"
    meant = "" if doubt.meant is None else f"; {value_text(quantity, doubt.meant, room.units)} may be meant"
    limits = f"{_short(room, quantity, doubt.least)} to {value_text(quantity, doubt.most, room.units)}"
    match doubt.kind:
        case "future":
            return f"{said}: {date_text(doubt.day)} {doubt.day.year} lies ahead"
        case "beyond":
            return f"{said} cannot be: {QUANTITIES[quantity].name} is from {limits}{meant}"
        case "point":
            return f"{said}: the point may be in the wrong place{_last(room, doubt, quantity)}{meant}"
        case "unit":
            return f"{said}: it may be in another unit{_last(room, doubt, quantity)}{meant}"
        case "unusual":
            return f"{said} is unusual: tanks like these are at {limits}"
    return f"{said} is far from the last value{_last(room, doubt, quantity)}"


def _as_typed(room: Room, quantity: Quantity, value: float) -> str:
    """A value with all its decimals: a slip must not be rounded away."""
    return f"{number_text(to_keeper(quantity, value, room.units), 3)} {unit_of(quantity, room.units)}".rstrip()


def _last(room: Room, doubt: WaterDoubt, quantity: Quantity) -> str:
    if doubt.before is None:
        return ""
    when = "as of the room file" if doubt.before.day is None else day_text(doubt.before.day, doubt.day)
    return f", {value_text(quantity, doubt.before.value, room.units)} {when}"


def _short(room: Room, quantity: Quantity, value: float) -> str:
    """A value without its unit."""
    return value_text(quantity, value, room.units).split(" ")[0]


def _amount_text(room: Room, doubt: WaterDoubt) -> str:
    match doubt.kind:
        case "future":
            return f"{date_text(doubt.day)} {doubt.day.year} lies ahead"
        case "much_salt":
            return f"{number_text(doubt.value)} g of salt is more than the {number_text(doubt.most)} g a tank is given"
    tank = volume_text(room.tanks[doubt.tank].litres, room.units)
    return f"{volume_text(doubt.value, room.units)} is more than is poured in at once; it holds {tank}"
