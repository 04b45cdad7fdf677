"""Waters that tanks are filled with, the keeper's salts, and a tank's inside, as a room file may describe them."""

from __future__ import annotations

from pydantic import Field

from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.values import (
    Acidity,
    Conductivity,
    Finite,
    Flag,
    Grams,
    Id,
    MassPercent,
    Name,
    Side,
    Solids,
    Volume,
)


class SourceWaterSpec(Spec):
    """`[[waters]]`: a water that tanks are filled with, in the room's units."""

    id: Id
    name: Name | None = None
    tds: Solids | None = None
    conductivity: Conductivity | None = None
    gh: Finite | None = None
    kh: Finite | None = None
    ph: Acidity | None = None
    top_off: Flag = False
    made: Flag = False


class MeasuredSpec(Spec):
    """What grams of a salt raised so much water by, as the keeper measured it, in the room's units."""

    grams: Grams
    water: Volume
    gh: Finite | None = None
    kh: Finite | None = None
    tds: Solids | None = None
    conductivity: Conductivity | None = None


class SaltSpec(Spec):
    """`[[salts]]`: a mineral salt by the keeper's own measure, or by what it is made of in percent of its mass."""

    id: Id
    name: Name | None = None
    measured: MeasuredSpec | None = None
    parts: dict[str, MassPercent] = Field(default_factory=dict)


class InsideSpec(Spec):
    """A tank's inside: length and width of the free water, or the height of the water when it is full."""

    length: Side | None = None
    width: Side | None = None
    height: Side | None = None
