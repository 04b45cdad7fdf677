"""What a room file says of make-up water: waters, salts by what one gram does, the area of a tank's free water."""

from __future__ import annotations

from typing import Final

from schedules.room import Units
from schedules.room.units import degrees_from, litres_from
from schedules.room.water.ions import conductivity_of_gram, degrees_of, part_named
from schedules.room.water.sources import Salt, SourceWater
from schedules.room_file.schema.makeup import InsideSpec, MeasuredSpec, SaltSpec, SourceWaterSpec

CM_PER_INCH: Final = 2.54
"""Exact: the international inch, 1959."""
_CM3_PER_LITRE: Final = 1000.0


def water_of(spec: SourceWaterSpec, units: Units) -> SourceWater:
    """A water, hardness in German degrees."""
    return SourceWater(
        id=spec.id,
        name=spec.name or spec.id,
        tds=spec.tds,
        conductivity=spec.conductivity,
        gh=_degrees(spec.gh, units),
        kh=_degrees(spec.kh, units),
        ph=spec.ph,
        top_off=spec.top_off,
        made=spec.made,
    )


def salt_of(spec: SaltSpec, units: Units) -> Salt:
    """A salt by what one gram raises one litre by: as measured, the rest by its parts.

    A salt that was measured and has no parts raises no hardness but the one that was measured.
    """
    name = spec.name or spec.id
    measured = {} if spec.measured is None else _by_the_gram(spec.measured, units)
    if not spec.parts:
        plain = dict.fromkeys(("gh", "kh"), 0.0) if {"gh", "kh"} & measured.keys() else {}
        return Salt(spec.id, name, **(plain | measured), measured=frozenset(measured))
    parts = [(part_named(part) or part, percent / 100) for part, percent in spec.parts.items()]
    gh, kh = degrees_of(parts)
    known = {"gh": gh, "kh": kh, "conductivity": conductivity_of_gram(parts)}
    return Salt(spec.id, name, **(known | measured), measured=frozenset(measured))


def footprint_of(spec: InsideSpec | None, litres: float, units: Units) -> float | None:
    """cm² of free water: length × width, else the volume by its height; None where nothing is said of the inside."""
    if spec is None:
        return None
    cm = CM_PER_INCH if units.us else 1.0
    if spec.length is not None and spec.width is not None:
        return spec.length * spec.width * cm**2
    return None if spec.height is None else litres * _CM3_PER_LITRE / (spec.height * cm)


def _by_the_gram(spec: MeasuredSpec, units: Units) -> dict[str, float]:
    """What one gram raised one litre by, of what was measured."""
    rises = {
        "tds": spec.tds,
        "conductivity": spec.conductivity,
        "gh": _degrees(spec.gh, units),
        "kh": _degrees(spec.kh, units),
    }
    share = litres_from(spec.water, units) / spec.grams
    return {name: rise * share for name, rise in rises.items() if rise is not None}


def _degrees(hardness: float | None, units: Units) -> float | None:
    return None if hardness is None else degrees_from(hardness, units)
