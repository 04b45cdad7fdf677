"""What the keeper fills tanks with: waters as they come, and salts by what they bring into water."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SourceWater:
    """A water that tanks are filled with: mg/L of dissolved solids, µS/cm at 25 °C, German degrees, pH.

    What the keeper did not measure is None. `top_off`: it is poured in where nothing else is named. `made`: the keeper
    makes it, of pure water and the room's salts.
    """

    id: str
    name: str
    tds: float | None = None
    conductivity: float | None = None
    gh: float | None = None
    kh: float | None = None
    ph: float | None = None
    top_off: bool = False
    made: bool = False


@dataclass(frozen=True, slots=True)
class Salt:
    """A salt by what one gram of it raises in one litre: mg/L of dissolved solids, µS/cm at 25 °C, German degrees.

    `measured` names what the keeper measured; the rest follows from the composition on the pack, or is None.
    """

    id: str
    name: str
    tds: float | None = None
    conductivity: float | None = None
    gh: float | None = None
    kh: float | None = None
    measured: frozenset[str] = frozenset()
