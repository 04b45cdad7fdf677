"""What a room file says of the water: its sense, and the values that come of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from typing import Final

from schedules.room import Units
from schedules.room.water.quantities import QUANTITIES, Quantity, from_keeper, to_keeper, unit_of
from schedules.room.water.rules import TDS_FACTOR, Band, WaterRules
from schedules.room_file.consistency import Finding
from schedules.room_file.faults import KeyPath
from schedules.room_file.schema.water import BandSpec, BandsSpec, WaterRulesSpec

_LEVELS: Final = ("lowest", "low", "high", "highest")


def water_rules(spec: WaterRulesSpec, units: Units) -> WaterRules:
    """What is read in this room, and the bands of all its tanks."""
    usual = WaterRules()
    return WaterRules(
        read=usual.read if spec.read is None else tuple(dict.fromkeys(spec.read)),
        tds_factor=TDS_FACTOR if spec.tds_factor is None else spec.tds_factor,
        compensated=spec.compensated,
        bands=bands_of(spec.bands, {}, units),
    )


def bands_of(spec: BandsSpec, usual: Mapping[Quantity, Band], units: Units) -> dict[Quantity, Band]:
    """Bands with what the file sets put in the place of the usual, key by key."""
    found = dict(usual)
    for quantity in QUANTITIES:
        band: BandSpec | None = getattr(spec, quantity)
        if band is not None:
            found[quantity] = _band(quantity, band, found.get(quantity, Band()), units)
    return found


def band_sense(path: KeyPath, quantity: Quantity, spec: BandSpec, units: Units) -> Iterator[Finding]:
    """Levels that no water has, a target upside down or beyond its own limits."""
    form = QUANTITIES[quantity]
    least, most = (to_keeper(quantity, value, units) for value in (form.least, form.most))
    known = [(key, value) for key in _LEVELS if (value := getattr(spec, key)) is not None]
    for key, value in known:
        if not least <= value <= most:
            unit = f" {unit_of(quantity, units)}" if unit_of(quantity, units) else ""
            yield Finding((*path, key), f"{value:g}", f"a {form.name} from {least:g} to {most:g}{unit}")
            return
    for (key, value), (higher, bound) in pairwise(known):
        if value > bound:
            yield Finding((*path, key), f"{value:g}", f"at most {higher} ({bound:g})")


def units_of(settings: Mapping[str, str]) -> Units:
    """The units that the settings of a file name, as far as they can be read."""
    return Units(settings.get("units") == "us", settings.get("hardness") == "mg/L")


def _band(quantity: Quantity, spec: BandSpec, usual: Band, units: Units) -> Band:
    levels = {key: from_keeper(quantity, value, units) for key in _LEVELS if (value := getattr(spec, key)) is not None}
    if spec.daily is not None:
        levels["daily"] = from_keeper(quantity, spec.daily, units) - from_keeper(quantity, 0.0, units)
    return replace(usual, **levels)
