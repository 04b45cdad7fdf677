"""Topping off: how much pure and how much mineralised water brings a tank to its target."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from typing import Final, Literal

from schedules.water.makeup.minerals import PURE, Dissolved, Minerals, TankWater

_HAIR: Final = 1e-9
Reach = Literal["reached", "too_low", "too_high"]


@dataclass(frozen=True, slots=True)
class Split:
    """Litres of pure and of mineralised water, what the tank holds after, and whether that is the target.

    `too_low`: with mineralised water alone it stays below. `too_high`: with pure water alone it stays above.
    """

    pure: float
    mineralised: float
    after: Minerals
    reach: Reach


def split(
    tank: TankWater,
    litres: float,
    quantity: Dissolved,
    target: float,
    mineralised: Minerals,
    pure: Minerals = PURE,
) -> Split:
    """How many of `litres` to take of each water so that the full tank has a quantity at its target.

    `tank` is what is in it now. From (V + E)·T = V·C + m·M + (E - m)·P follows m. ValueError where the quantity is not
    known in all three waters, or the mineralised one holds no more of it than the pure one.
    """
    now, rich, poor = tank.minerals.of(quantity), mineralised.of(quantity), pure.of(quantity)
    if now is None or rich is None or poor is None or rich <= poor:
        raise ValueError(f"no {quantity} to reach a target by")
    wanted = (target * (tank.litres + litres) - now * tank.litres - poor * litres) / (rich - poor)
    taken = min(max(wanted, 0.0), litres)
    room = _HAIR * (tank.litres + litres)
    reach: Reach = "too_high" if wanted < -room else "too_low" if wanted > litres + room else "reached"
    after = tank.poured(litres - taken, pure).poured(taken, mineralised)
    return Split(litres - taken, taken, after.minerals, reach)


def portions(tank: TankWater, litres: float, quantity: Dissolved, water: Minerals, swing: float) -> tuple[float, ...]:
    """Litres of a water to pour in day by day so that a quantity never moves by more than `swing` in one: fewest days.

    As (C - W)·V does not change while a water W is poured in, C moves evenly with 1/V. ValueError unless known.
    """
    now, poured = tank.minerals.of(quantity), water.of(quantity)
    if now is None or poured is None or swing <= 0:
        raise ValueError(f"no {quantity} to keep steady")
    if litres <= 0:
        return ()
    first, last = 1 / tank.litres, 1 / (tank.litres + litres)
    moved = abs(now - poured) * tank.litres * (first - last)
    days = max(1, ceil(moved / swing - _HAIR))
    levels = [1 / (first + (last - first) * day / days) for day in range(days + 1)]
    return tuple(later - earlier for earlier, later in pairwise(levels))
