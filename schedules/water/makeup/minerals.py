"""What is dissolved in water, and what becomes of it when water goes, comes or is changed: a balance of masses.

Hardness and alkalinity are kept exactly by mixing as long as nothing settles as lime. Dissolved solids by a meter are
kept to a few percent (6 % between very soft and hard water, by PHREEQC), since conductivity rises less than evenly. pH
is not kept and not worked out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

Dissolved = Literal["tds", "gh", "kh"]
DISSOLVED: Final[tuple[Dissolved, ...]] = ("tds", "gh", "kh")


class Minerals(NamedTuple):
    """Dissolved solids in mg/L, GH and KH in German degrees; None for what nobody measured."""

    tds: float | None = None
    gh: float | None = None
    kh: float | None = None

    def of(self, quantity: Dissolved) -> float | None:
        """One of the three."""
        return self.tds if quantity == "tds" else self.gh if quantity == "gh" else self.kh


PURE: Final = Minerals(0.0, 0.0, 0.0)
"""Water out of reverse osmosis, a deioniser or a still: nothing in it that counts here."""


def mixed(parts: Iterable[tuple[float, Minerals]]) -> Minerals:
    """What is in a mix of litres of several waters: C = ΣCᵢVᵢ / ΣVᵢ. ValueError where there is no water at all.

    A quantity that is unknown in any of them is unknown in the mix.
    """
    poured = [(litres, water) for litres, water in parts if litres > 0]
    total = sum(litres for litres, _ in poured)
    if total <= 0:
        raise ValueError("there is no water to mix")
    return Minerals(*(_mean(poured, total, quantity) for quantity in DISSOLVED))


@dataclass(frozen=True, slots=True)
class TankWater:
    """The water in a tank: litres, and what is dissolved in it."""

    litres: float
    minerals: Minerals

    def evaporated(self, litres: float) -> TankWater:
        """After so many litres have gone as vapour, which takes nothing along: C' = C·V / (V - E)."""
        left = self._left(litres)
        return TankWater(left, _scaled(self.minerals, self.litres / left))

    def poured(self, litres: float, water: Minerals) -> TankWater:
        """After so many litres of a water were poured in."""
        return TankWater(self.litres + litres, mixed(((self.litres, self.minerals), (litres, water))))

    def changed(self, litres: float, water: Minerals) -> TankWater:
        """After so many litres were taken out and replaced."""
        return TankWater(self._left(litres), self.minerals).poured(litres, water) if litres else self

    def salted(self, grams: float, per_gram: Minerals) -> TankWater:
        """After grams of a salt have dissolved, of which one raises one litre by `per_gram`."""
        raised = (
            None if here is None or each is None else here + grams * each / self.litres
            for here, each in zip(self.minerals, per_gram, strict=True)
        )
        return TankWater(self.litres, Minerals(*raised))

    def _left(self, litres: float) -> float:
        if not 0 <= litres < self.litres:
            raise ValueError(f"{litres:g} of {self.litres:g} litres cannot be taken away")
        return self.litres - litres


def _scaled(minerals: Minerals, factor: float) -> Minerals:
    return Minerals(*(None if each is None else each * factor for each in minerals))


def _mean(parts: list[tuple[float, Minerals]], total: float, quantity: Dissolved) -> float | None:
    mass = 0.0
    for litres, water in parts:
        value = water.of(quantity)
        if value is None:
            return None
        mass += litres * value
    return mass / total
