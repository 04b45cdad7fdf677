"""What follows from a tank's latest readings: its water as it is now, ammonia that harms, dissolved solids."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from schedules.history import History
from schedules.room import Room, Tank, Water
from schedules.room.water.quantities import Quantity, from_keeper
from schedules.water.chemistry.ammonia import unionised_part
from schedules.water.chemistry.conductivity import conductivity_at_25, solids_of
from schedules.water.chemistry.criteria import acute_criterion, chronic_criterion
from schedules.water.readings import Value, latest

OF_THE_FILE: Final[tuple[Quantity, ...]] = ("temperature", "ph", "gh", "kh", "tds")


class NoTemperature(ValueError):
    """A conductivity that cannot be brought to 25 °C: its temperature is not known, or not from 0 to 35 °C."""


@dataclass(frozen=True, slots=True)
class Ammonia:
    """A reading of total ammonia nitrogen with what it means at the tank's own pH and temperature, all in mg/L.

    `unionised` is NH3-N, the part that harms; `chronic` and `acute` are the EPA 2013 criteria for the total.
    """

    total: Value
    ph: Value
    celsius: Value
    unionised: float
    chronic: float
    acute: float


def water_on(history: History, tank: Tank, day: date | None = None) -> Water:
    """A tank's water by its latest readings (up to a day), each else as the room file has it."""
    found = {quantity: value for quantity in OF_THE_FILE if (value := latest(history, tank, quantity, day)) is not None}
    return replace(tank.water, **{quantity: value.value for quantity, value in found.items()})


def ammonia_of(history: History, tank: Tank, day: date | None = None) -> Ammonia | None:
    """The newest ammonia reading at the tank's own pH and temperature; None where one of the three is not known."""
    total, ph, celsius = (latest(history, tank, quantity, day) for quantity in ("ammonia", "ph", "temperature"))
    if total is None or ph is None or celsius is None:
        return None
    return Ammonia(
        total,
        ph,
        celsius,
        total.value * unionised_part(ph.value, celsius.value),
        chronic_criterion(ph.value, celsius.value),
        acute_criterion(ph.value, celsius.value),
    )


def solids_now(room: Room, history: History, tank: Tank) -> Value | None:
    """Dissolved solids in mg/L: as read, or from a newer reading of conductivity by the room's factor."""
    read, conducted = latest(history, tank, "tds"), latest(history, tank, "conductivity")
    if conducted is None or (read is not None and (read.day or date.min) >= (conducted.day or date.min)):
        return read
    return replace(conducted, value=solids_of(conducted.value, room.water.tds_factor))


def settled(room: Room, history: History, tank: str, typed: Mapping[Quantity, float]) -> dict[Quantity, float]:
    """Values as a keeper typed them, in the domain's units, conductivity at 25 °C. Raises `NoTemperature`."""
    values = {quantity: from_keeper(quantity, value, room.units) for quantity, value in typed.items()}
    return at_25(room, history, tank, values)


def at_25(room: Room, history: History, tank: str, values: dict[Quantity, float]) -> dict[Quantity, float]:
    """Values with conductivity at 25 °C, where the room's meter shows it as it is.

    That needs the temperature: the one read with it, else the tank's latest. `NoTemperature` where there is none.
    """
    if "conductivity" not in values or room.water.compensated:
        return values
    celsius = values.get("temperature")
    if celsius is None:
        known = latest(history, room.tanks[tank], "temperature")
        celsius = None if known is None else known.value
    if celsius is None:
        raise NoTemperature(f"{tank}: to bring conductivity to 25 °C, read temperature with it")
    try:
        return values | {"conductivity": conductivity_at_25(values["conductivity"], celsius)}
    except ValueError as fault:
        raise NoTemperature(f"{tank}: {fault}") from None
