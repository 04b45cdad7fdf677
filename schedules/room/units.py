"""Units at the edge: the domain keeps litres, °C and degrees of hardness; the keeper may read and write others.

Sources of the factors stand at each constant. Conversions are plain multiplications, so a value that goes there and
back differs by rounding of the last bits at most; the texts made here hide that.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

LITRES_PER_US_GALLON: Final = 3.785411784
"""Exact: 231 cubic inches of 2.54 cm (international inch, 1959)."""
MG_CACO3_PER_DEGREE: Final = 17.848
"""mg/L as CaCO3 in one German degree, 10 mg/L as CaO: 100.086 / 56.077 × 10 with IUPAC atomic weights (dGH and dKH
alike)."""


@dataclass(frozen=True, slots=True)
class Units:
    """What the keeper reads: litres and °C or US gallons and °F, degrees of hardness or mg/L."""

    us: bool = False
    hardness_mg_per_litre: bool = False


def litres_from_gallons(gallons: float) -> float:
    """US gallons to litres."""
    return gallons * LITRES_PER_US_GALLON


def gallons_from_litres(litres: float) -> float:
    """Litres to US gallons."""
    return litres / LITRES_PER_US_GALLON


def celsius_from_fahrenheit(fahrenheit: float) -> float:
    """°F to °C (exact by definition: 180 °F span 100 °C, 32 °F is 0 °C)."""
    return (fahrenheit - 32) * 5 / 9


def fahrenheit_from_celsius(celsius: float) -> float:
    """°C to °F."""
    return celsius * 9 / 5 + 32


def degrees_from_mg_per_litre(mg_per_litre: float) -> float:
    """Hardness or alkalinity in mg/L as CaCO3 to German degrees."""
    return mg_per_litre / MG_CACO3_PER_DEGREE


def mg_per_litre_from_degrees(degrees: float) -> float:
    """German degrees to mg/L as CaCO3."""
    return degrees * MG_CACO3_PER_DEGREE


def litres_from(volume: float, units: Units) -> float:
    """A volume as the keeper wrote it, in litres."""
    return litres_from_gallons(volume) if units.us else volume


def celsius_from(temperature: float, units: Units) -> float:
    """A temperature as the keeper wrote it, in °C."""
    return celsius_from_fahrenheit(temperature) if units.us else temperature


def degrees_from(hardness: float, units: Units) -> float:
    """A hardness as the keeper wrote it, in degrees."""
    return degrees_from_mg_per_litre(hardness) if units.hardness_mg_per_litre else hardness


def number_text(value: float, decimals: int = 1) -> str:
    """A number rounded to at most `decimals` places, without trailing zeros and without a minus sign before zero."""
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def volume_text(litres: float, units: Units) -> str:
    """A volume as the keeper reads it: `54 L` or `14.3 gal`."""
    return f"{number_text(gallons_from_litres(litres))} gal" if units.us else f"{number_text(litres)} L"


def temperature_text(celsius: float, units: Units) -> str:
    """A temperature as the keeper reads it: `24.5 °C` or `76.1 °F`."""
    return f"{number_text(fahrenheit_from_celsius(celsius))} °F" if units.us else f"{number_text(celsius)} °C"


def hardness_text(degrees: float, units: Units, name: str = "GH") -> str:
    """A hardness as the keeper reads it, `name` being GH or KH: `6 dGH` or `GH 107 mg/L`."""
    if units.hardness_mg_per_litre:
        return f"{name} {number_text(mg_per_litre_from_degrees(degrees), 0)} mg/L"
    return f"{number_text(degrees)} d{name}"
