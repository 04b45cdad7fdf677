"""Changing water without a shock: the smallest changes that bring a tank to its target in the fewest days."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from schedules.water.makeup.minerals import Dissolved, Minerals

MOST_DAYS: Final = 60
"""Longer plans are none: other water is needed."""
VOLUME_PART: Final = 0.05
"""How exactly a share of a tank's water is changed: its volume with gravel and wood, and a jug. Common practice, no
source."""
MOST_PART: Final = 0.5
"""The largest part of a tank's water that is changed in one go. Common practice, no source."""
_HAIR: Final = 1e-9


@dataclass(frozen=True, slots=True)
class ChangePlan:
    """The parts of a tank's water to change day by day, and what it holds before the first and after each."""

    parts: tuple[float, ...]
    after: tuple[Minerals, ...]

    def litres(self, tank_litres: float) -> float:
        """All the water it takes."""
        return sum(self.parts) * tank_litres


def change_plan(
    now: Minerals,
    water: Minerals,
    quantity: Dissolved,
    target: float,
    swings: Mapping[Dissolved, float],
    errors: Mapping[Dissolved, float] | None = None,
    volume_part: float = 0.0,
) -> ChangePlan | None:
    """The changes that bring a quantity to its target; None where this water cannot, or not within `MOST_DAYS`.

    On no day a quantity moves by more than its `swings`, also where the distance between tank and water is wrong by up
    to `errors` and each change by up to a part `volume_part`. Every change leaves (1 - x) of the distance to the water,
    of all quantities alike, so the one with the tightest limit sets the pace.
    """
    here, there = now.of(quantity), water.of(quantity)
    if here is None or there is None:
        return None
    if here == target:
        return ChangePlan((), (now,))
    keep = _kept(here, there, target)
    limit = _limit(now, water, swings, errors or {})
    if keep is None or limit <= 0:
        return None
    parts = fewest_changes(keep, limit, volume_part)
    return None if parts is None else ChangePlan(parts, _states(now, water, parts))


def fewest_changes(keep: float, limit: float, error: float = 0.0) -> tuple[float, ...] | None:
    """The parts to change so that `keep` (0 to 1) of the distance is left, moving at most `limit` of it on any day.

    No change is larger than `MOST_PART`. Whole steps give the fewest days, and the rest comes last. A rest that came
    first would take a few percent less water, but a plan made again each morning would then begin with a rest each
    time and get nowhere. None beyond `MOST_DAYS`.
    """
    parts: list[float] = []
    while (left := _left(parts)) > keep * (1 + _HAIR):
        if len(parts) == MOST_DAYS:
            return None
        parts.append(min(_step(parts, limit, error), 1 - keep / left))
    return tuple(parts)


def _step(before: list[float], limit: float, error: float) -> float:
    """The largest part that may be changed next: the distance may still be as far as poor changes left it."""
    far = 1.0
    for part in before:
        far *= 1 - part * (1 - error)
    return min(MOST_PART, limit / (far * (1 + error)))


def _left(parts: list[float]) -> float:
    left = 1.0
    for part in parts:
        left *= 1 - part
    return left


def _kept(here: float, there: float, target: float) -> float | None:
    """The part of the distance to the water that is left at the target; None where the water does not lead there."""
    if here == there:
        return None
    keep = (target - there) / (here - there)
    return keep if 0 < keep <= 1 else None


def _limit(
    now: Minerals, water: Minerals, swings: Mapping[Dissolved, float], errors: Mapping[Dissolved, float]
) -> float:
    """The part of the distance to the water that may be covered on a day: the least of all quantities."""
    limit = 1.0
    for quantity, swing in swings.items():
        here, there = now.of(quantity), water.of(quantity)
        if here is not None and there is not None:
            far = abs(here - there) + errors.get(quantity, 0.0)
            limit = min(limit, swing / far) if far > 0 else limit
    return limit


def _states(now: Minerals, water: Minerals, parts: tuple[float, ...]) -> tuple[Minerals, ...]:
    states = [now]
    for part in parts:
        mixed = (
            None if here is None or there is None else here + part * (there - here)
            for here, there in zip(states[-1], water, strict=True)
        )
        states.append(Minerals(*mixed))
    return tuple(states)
