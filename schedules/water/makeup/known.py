"""What is known of the room's waters, salts and bands: solids by conductivity where only that is known."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from schedules.room import Room, Tank
from schedules.room.water.quantities import Quantity
from schedules.room.water.rules import Band
from schedules.water.chemistry.conductivity import solids_of
from schedules.water.makeup.minerals import DISSOLVED, PURE, Dissolved, Minerals
from schedules.water.makeup.salting import Dissolving

PURE_ID: Final = "pure"
"""The id by which a room file may say what its pure water holds; without it, nothing."""
_HAIR: Final = 1e-6


def minerals_of(room: Room, source: str | None) -> Minerals:
    """What a water holds by its id, None for pure water; nothing is known of a water that the room does not name."""
    water = room.waters.get(source or PURE_ID)
    if water is None:
        return PURE if source in (None, PURE_ID) else Minerals()
    return Minerals(_solids(room, water.tds, water.conductivity), water.gh, water.kh)


def value_in(room: Room, quantity: Quantity, source: str | None) -> float | None:
    """What a water holds of any quantity, by its id, None for pure water; None where nobody knows.

    Nobody says of a water how much waste it holds: of that only pure water is known to hold none.
    """
    minerals, water = minerals_of(room, source), room.waters.get(source or PURE_ID)
    match quantity:
        case "tds" | "gh" | "kh":
            return minerals.of(quantity)
        case "conductivity":
            if water is not None and water.conductivity is not None:
                return water.conductivity
            return None if minerals.tds is None else minerals.tds / room.water.tds_factor
        case "ammonia" | "nitrite" | "nitrate":
            return 0.0 if source in (None, PURE_ID) else None
    return None


def salt_minerals(room: Room, salt: str) -> Minerals:
    """What one gram of a salt raises one litre by; nothing is known of a salt that the room does not name."""
    found = room.salts.get(salt)
    return Minerals() if found is None else Minerals(_solids(room, found.tds, found.conductivity), found.gh, found.kh)


def salts_of(room: Room) -> tuple[Dissolving, ...]:
    """The room's salts, in the order of the file."""
    return tuple(Dissolving(salt, salt_minerals(room, salt)) for salt in room.salts)


def top_off_water(room: Room) -> str | None:
    """The id of the water that tanks are usually topped off with, None for pure water."""
    named = next((water.id for water in room.waters.values() if water.top_off), None)
    return None if named == PURE_ID else named


def bands_of(room: Room, tank: Tank) -> dict[Dissolved, Band]:
    """The tank's bands of what is dissolved; one of conductivity stands for solids where those have none."""
    found = {quantity: tank.bands[quantity] for quantity in DISSOLVED if quantity in tank.bands}
    if "tds" not in found and "conductivity" in tank.bands:
        found["tds"] = _scaled(tank.bands["conductivity"], room.water.tds_factor)
    return {quantity: band for quantity, band in found.items() if (band.low, band.high) != (None, None)}


def nearest_in(band: Band, value: float) -> float:
    """The value of a band that is nearest to a value."""
    if band.low is not None and value < band.low:
        return band.low
    return band.high if band.high is not None and value > band.high else value


def is_in(band: Band, value: float) -> bool:
    """Whether a value lies within a band, rounding errors aside."""
    return abs(nearest_in(band, value) - value) <= _HAIR * max(1.0, abs(value))


def middle_of(bands: Mapping[Dissolved, Band]) -> Minerals:
    """What make-up water is to hold: the middle of each band that has two ends."""
    middles: dict[str, float] = {
        quantity: (band.low + band.high) / 2
        for quantity, band in bands.items()
        if band.low is not None and band.high is not None
    }
    return Minerals(**middles)


def _solids(room: Room, solids: float | None, conductivity: float | None) -> float | None:
    if solids is not None or conductivity is None:
        return solids
    return solids_of(conductivity, room.water.tds_factor)


def _scaled(band: Band, factor: float) -> Band:
    ends = (band.low, band.high, band.lowest, band.highest, band.daily)
    return Band(*(None if end is None else end * factor for end in ends))
