"""A tank that is only topped off: what stays behind when water evaporates, and the change that keeps it in bounds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf

from schedules.water.makeup.minerals import DISSOLVED, Minerals


@dataclass(frozen=True, slots=True)
class Poured:
    """Litres of a water that were poured in on top of what evaporated, and what was dissolved in it."""

    litres: float
    water: Minerals


def built_up(tank_litres: float, poured: Iterable[Poured]) -> Minerals:
    """How far topping off has raised a full tank: Σ litres × concentration / volume.

    None for a quantity that was not known in one of the waters.
    """
    sums: list[float | None] = [0.0, 0.0, 0.0]
    for each in poured:
        for place, quantity in enumerate(DISSOLVED):
            held, value = sums[place], each.water.of(quantity)
            sums[place] = None if held is None or value is None else held + each.litres * value / tank_litres
    return Minerals(*sums)


def days_left(now: float, most: float, rise: float) -> float:
    """Days until a quantity that rises by `rise` a day leaves its target; 0 if it has, infinite if it does not rise."""
    if now >= most:
        return 0.0
    return (most - now) / rise if rise > 0 else inf


def steady_part(rise: float, most: float, water: float) -> float | None:
    """The part of the water to change each time so that a quantity never settles above `most`.

    `rise` is what builds up between two changes, `water` what the new water holds. Before each change it settles at
    water + rise / part: the sum of a geometric series. None where this water cannot keep it there.
    """
    if rise <= 0:
        return 0.0
    part = rise / (most - water) if most > water else inf
    return part if part <= 1 else None
