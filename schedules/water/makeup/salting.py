"""Grams of the keeper's salts that turn a water into one of the hardness and alkalinity a tank is to have."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from schedules.water.makeup.minerals import DISSOLVED, Dissolved, Minerals

_HAIR: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Dissolving:
    """A salt by its id, and what one gram raises one litre by."""

    salt: str
    per_gram: Minerals


@dataclass(frozen=True, slots=True)
class Recipe:
    """Grams of each salt for one litre of the base water, what the water holds then, and the largest miss.

    `miss` is the largest distance to what was wanted, in German degrees, or in mg/L where only solids were wanted.
    """

    grams: tuple[tuple[str, float], ...]
    minerals: Minerals
    miss: float


def recipe(base: Minerals, salts: Sequence[Dissolving], wanted: Minerals) -> Recipe | None:
    """At most two salts that bring a base water nearest to what is wanted: least miss, fewest salts, fewest grams.

    GH and KH are aimed at; dissolved solids only where neither is wanted, since they follow from the salts. None where
    no salt is known to help. A base water that already holds more than is wanted stays as it is.
    """
    aims = _aims(base, wanted)
    if not aims:
        return None
    choices = [(), *combinations(salts, 1), *combinations(salts, 2)]
    found = [each for chosen in choices if (each := _solved(base, chosen, aims, wanted)) is not None]
    best = min(found, key=lambda each: (round(each.miss, 6), len(each.grams), sum(grams for _, grams in each.grams)))
    return best if best.grams or best.miss < _HAIR else None


def _aims(base: Minerals, wanted: Minerals) -> tuple[Dissolved, ...]:
    """What can be aimed at: what is wanted and known of the base water."""
    known = [each for each in DISSOLVED if base.of(each) is not None and wanted.of(each) is not None]
    return tuple(each for each in known if each != "tds") or tuple(known)


def _solved(base: Minerals, chosen: Sequence[Dissolving], aims: Sequence[Dissolved], wanted: Minerals) -> Recipe | None:
    """The grams of the chosen salts, by least squares; None where that takes less than nothing of one of them."""
    rises = [[each.per_gram.of(aim) for aim in aims] for each in chosen]
    gaps = [_number(wanted.of(aim)) - _number(base.of(aim)) for aim in aims]
    rows = [[value for value in row if value is not None] for row in rises]
    if any(len(row) != len(aims) for row in rows):
        return None
    grams = _least_squares(rows, gaps)
    if grams is None or any(each <= _HAIR for each in grams):
        return None
    minerals = dissolved(base, zip(chosen, grams, strict=True))
    miss = max(abs(_number(minerals.of(aim)) - _number(wanted.of(aim))) for aim in aims)
    return Recipe(tuple((each.salt, gram) for each, gram in zip(chosen, grams, strict=True)), minerals, miss)


def dissolved(base: Minerals, parts: Iterable[tuple[Dissolving, float]]) -> Minerals:
    """A litre of base water with grams of salts in it; a quantity unknown in any of them is unknown."""
    values: list[float | None] = list(base)
    for each, grams in parts:
        for place, rise in enumerate(each.per_gram):
            here = values[place]
            values[place] = None if here is None or rise is None else here + grams * rise
    return Minerals(*values)


def _least_squares(rows: Sequence[Sequence[float]], gaps: Sequence[float]) -> tuple[float, ...] | None:
    """Factors of at most two rows whose sum comes nearest to the gaps; None where the rows are alike."""
    products = [[_dot(one, other) for other in rows] for one in rows]
    goals = [_dot(row, gaps) for row in rows]
    match len(rows):
        case 0:
            return ()
        case 1:
            return (goals[0] / products[0][0],) if products[0][0] > 0 else None
    determinant = products[0][0] * products[1][1] - products[0][1] * products[1][0]
    if determinant <= _HAIR * products[0][0] * products[1][1]:
        return None
    first = (goals[0] * products[1][1] - goals[1] * products[0][1]) / determinant
    second = (goals[1] * products[0][0] - goals[0] * products[1][0]) / determinant
    return first, second


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


def _number(value: float | None) -> float:
    return 0.0 if value is None else value
