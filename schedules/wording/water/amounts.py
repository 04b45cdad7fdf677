"""Litres and what is dissolved in them, as the keeper reads them."""

from __future__ import annotations

from collections.abc import Mapping

from schedules.room import Units
from schedules.room.units import gallons_from_litres, number_text
from schedules.room.water.quantities import Quantity, reading_text, value_text
from schedules.room.water.rules import Band
from schedules.water.makeup.minerals import DISSOLVED, Dissolved, Minerals


def litres_text(litres: float, units: Units) -> str:
    """A volume to pour: `1.8 L`, `280 mL` below a litre, `0.48 gal`."""
    if units.us:
        return f"{number_text(gallons_from_litres(litres), 2)} gal"
    if litres < 0.995:
        return f"{number_text(litres * 1000, 0) if litres < 0.05 else number_text(litres * 100, 0) + '0'} mL"
    return f"{number_text(litres)} L"


def minerals_text(minerals: Minerals, units: Units) -> str:
    """What is dissolved, as far as it is known: `TDS 200 mg/L, 6 dGH`."""
    known = [(each, value) for each in DISSOLVED if (value := minerals.of(each)) is not None]
    return ", ".join(reading_text(each, value, units) for each, value in known) or "nobody knows what"


def band_text(quantity: Quantity, band: Band, units: Units) -> str:
    """The values between which a quantity is to stay: `180 to 220 mg/L`, `at most 220 mg/L`."""
    if band.low is None or band.high is None:
        end = band.low if band.high is None else band.high
        side = "at least" if band.high is None else "at most"
        return "any value" if end is None else f"{side} {value_text(quantity, end, units)}"
    return f"{value_text(quantity, band.low, units).split(' ')[0]} to {value_text(quantity, band.high, units)}"


def held_text(minerals: Minerals, bands: Mapping[Dissolved, Band], units: Units) -> str:
    """What is dissolved, each with its band: `TDS 200 mg/L (180 to 220 mg/L)`."""
    texts = []
    for each in DISSOLVED:
        value = minerals.of(each)
        if value is not None:
            band = f" ({band_text(each, bands[each], units)})" if each in bands else ""
            texts.append(reading_text(each, value, units) + band)
    return ", ".join(texts) or "not known: TDS, GH and KH were never read"


def grams_text(grams: float) -> str:
    """A mass to weigh: `5.25 g`."""
    return f"{number_text(grams, 2)} g" if grams >= 0.01 else f"{number_text(grams * 1000, 1)} mg"
