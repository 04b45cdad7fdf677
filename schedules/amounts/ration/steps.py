"""One line of a worked-out amount: a code with its values, a number, where it comes from, how far off it may be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

Value = str | int | float


@dataclass(frozen=True, slots=True)
class Step:
    """One line of arithmetic. `schedules.wording.amounts` has the words of its codes.

    `source` is the code of a publication, of the room file or the ledger, "lines" for what follows from the lines
    above; `times_off` says how many times the number may be off either way, 0 where it is exact or nothing is known.
    """

    code: str
    value: float
    unit: str
    source: str
    times_off: float = 0.0
    values: Mapping[str, Value] = field(default_factory=dict)
