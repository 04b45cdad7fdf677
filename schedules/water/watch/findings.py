"""What the watch finds, as values."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from schedules.room.water.quantities import Quantity

FindingKind = Literal["limit", "target", "step", "drift", "rack_step", "rack_drift", "swing", "leaving", "ammonia"]


@dataclass(frozen=True, slots=True)
class Read:
    """A reading on a day, in the domain's units; `lost` is the part of the tank that had evaporated then."""

    day: date
    value: float
    lost: float = 0.0

    @property
    def full(self) -> float:
        """The value in the full tank: vapour takes nothing along."""
        return self.value * (1 - self.lost)


@dataclass(frozen=True, slots=True)
class Done:
    """Something done to the water on a day: `part` of the tank was replaced or added.

    `value` is the quantity in what was poured in, None where that is not known; `dose`: a salt was dissolved.
    """

    day: date
    part: float = 0.0
    value: float | None = None
    added: bool = False
    dose: bool = False


Event = Read | Done


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found in a quantity of a tank, or of several tanks of a rack at once.

    - `limit`, `target`: `value` lies beyond `bound`.
    - `step`: from `before` to `value` between two readings.
    - `drift`: the moving average `value` has left the tank's own level `before`, known from `count` readings. Both are
      of the full tank where the pace of its top-offs is known.
    - `rack_step`, `rack_drift`: the same in `tanks` at once, of one rack or of several; `before` and `value` are those
      of `tank`, which stands for them.
    - `swing`: it changed by more than the `daily` of the room file (`bound`) for each day between two readings.
    - `leaving`: by its trend (`slope` a day) it passes `bound` on `until`.
    - `ammonia`: total ammonia nitrogen `value` is above the chronic criterion `bound` at the tank's own readings.

    `day` is the day of the reading that showed it, `since` the day on which `before` was read, or learned until.
    """

    kind: FindingKind
    tank: str
    quantity: Quantity
    day: date
    value: float
    before: float | None = None
    since: date | None = None
    bound: float | None = None
    tanks: tuple[str, ...] = ()
    slope: float | None = None
    until: date | None = None
    count: int = 0


Series = Sequence[Event]
"""What was read of one quantity in one tank and done to its water, by day."""
