"""The quantities that are read in a tank's water: their names, units and limits, and the keeper's units at the edge.

In the domain: °C, µS/cm at 25 °C, mg/L, pH, German degrees. Ammonia is total ammonia nitrogen (NH3-N and NH4-N),
nitrite is NO2-, nitrate NO3-, as the usual drop tests give them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from schedules.room.units import (
    Units,
    celsius_from,
    degrees_from,
    fahrenheit_from_celsius,
    mg_per_litre_from_degrees,
    number_text,
)

Quantity = Literal["temperature", "conductivity", "tds", "ph", "gh", "kh", "ammonia", "nitrite", "nitrate"]


@dataclass(frozen=True, slots=True)
class QuantityForm:
    """What a quantity is called, its unit in the domain, its limits there, and how many decimals are shown.

    No water in which a shrimp was ever kept lies beyond the limits: they catch what cannot be, not what is unusual.
    """

    name: str
    unit: str
    least: float
    most: float
    decimals: int


QUANTITIES: Final[Mapping[Quantity, QuantityForm]] = {
    "temperature": QuantityForm("temperature", "°C", 0, 50, 1),
    "conductivity": QuantityForm("conductivity", "µS/cm", 0, 100_000, 0),
    "tds": QuantityForm("TDS", "mg/L", 0, 100_000, 0),
    "ph": QuantityForm("pH", "", 0, 14, 2),
    "gh": QuantityForm("GH", "°dH", 0, 200, 1),
    "kh": QuantityForm("KH", "°dH", 0, 200, 1),
    "ammonia": QuantityForm("ammonia", "mg/L", 0, 1000, 3),
    "nitrite": QuantityForm("nitrite", "mg/L", 0, 1000, 3),
    "nitrate": QuantityForm("nitrate", "mg/L", 0, 10_000, 1),
}
"""Every quantity, in the order in which they are shown."""


def from_keeper(quantity: Quantity, value: float, units: Units) -> float:
    """A value in the keeper's units, in the domain's."""
    match quantity:
        case "temperature":
            return celsius_from(value, units)
        case "gh" | "kh":
            return degrees_from(value, units)
    return value


def to_keeper(quantity: Quantity, value: float, units: Units) -> float:
    """A value in the domain's units, in the keeper's."""
    if quantity == "temperature" and units.us:
        return fahrenheit_from_celsius(value)
    if quantity in ("gh", "kh") and units.hardness_mg_per_litre:
        return mg_per_litre_from_degrees(value)
    return value


def change_to_keeper(quantity: Quantity, change: float, units: Units) -> float:
    """A difference of two values in the domain's units, in the keeper's: 1 °C is 1.8 °F, whatever the zero."""
    return to_keeper(quantity, change, units) - to_keeper(quantity, 0.0, units)


def unit_of(quantity: Quantity, units: Units) -> str:
    """The keeper's unit of a quantity, empty for pH."""
    if quantity == "temperature" and units.us:
        return "°F"
    if quantity in ("gh", "kh"):
        return "mg/L" if units.hardness_mg_per_litre else f"d{quantity.upper()}"
    return QUANTITIES[quantity].unit


def value_text(quantity: Quantity, value: float, units: Units) -> str:
    """A value with its unit as the keeper reads it: `24.5 °C`, `6.4` (pH), `6 dGH`."""
    return _with_unit(quantity, to_keeper(quantity, value, units), units)


def change_text(quantity: Quantity, change: float, units: Units) -> str:
    """A difference with its sign and unit: `+2 °C`, `-1 dKH`."""
    text = _with_unit(quantity, change_to_keeper(quantity, change, units), units)
    return text if text.startswith("-") else f"+{text}"


def reading_text(quantity: Quantity, value: float, units: Units) -> str:
    """A quantity's name and value: `TDS 180 mg/L`, `6 dGH`."""
    text = value_text(quantity, value, units)
    named = quantity in ("gh", "kh") and not units.hardness_mg_per_litre
    return text if named else f"{QUANTITIES[quantity].name} {text}"


def _with_unit(quantity: Quantity, value: float, units: Units) -> str:
    in_mg = quantity in ("gh", "kh") and units.hardness_mg_per_litre
    text = number_text(value, 0 if in_mg else QUANTITIES[quantity].decimals)
    return f"{text} {unit_of(quantity, units)}".rstrip()
