"""What invented rooms are made of: usual numbers of each kind of feed, the default clocks, who lives in a tank.

The clocks are the planning rules' defaults (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from schedules.planning.problem.types import Table
from schedules.room.kinds import Kind, Stage


class KindNumbers(NamedTuple):
    table: Table
    share: float
    most: float
    minutes: float
    usual_gap: int
    """Days between servings that a past is made of."""


KIND_NUMBERS: Mapping[Kind, KindNumbers] = {
    "biofilm": KindNumbers("fine", 0.3, 0.6, 0.5, 3),
    "powder": KindNumbers("fine", 0.3, 1.0, 0.6, 2),
    "suspension": KindNumbers("fan", 0.5, 1.0, 1.0, 2),
    "mineral": KindNumbers("ground", 0.1, 0.3, 0.4, 5),
    "staple": KindNumbers("ground", 0.5, 1.0, 0.3, 2),
    "protein": KindNumbers("ground", 0.4, 0.6, 0.4, 7),
    "greens": KindNumbers("ground", 0.4, 1.0, 0.5, 5),
}


class ClockRow(NamedTuple):
    kinds: tuple[Kind, ...]
    min_gap: int
    max_gap: int | None
    per_week: float | None
    overdue: float | None
    rotate: bool


CLOCK_ROWS: Mapping[str, ClockRow] = {
    "first_fine": ClockRow(("biofilm", "powder"), 0, 2, 7, 300, False),
    "fine": ClockRow(("biofilm", "powder"), 0, 2, 5, 300, False),
    "film": ClockRow(("biofilm",), 2, 5, 2, 50, True),
    "powder": ClockRow(("powder",), 1, None, None, None, True),
    "fan": ClockRow(("suspension",), 1, 3, 3, 200, True),
    "ground": ClockRow(("staple", "protein", "greens"), 0, 3, 5, 200, False),
    "staple": ClockRow(("staple",), 2, None, None, None, True),
    "protein": ClockRow(("protein",), 4, 10, 1, 50, True),
    "greens": ClockRow(("greens",), 3, 9, 1.5, 50, True),
    "mineral": ClockRow(("mineral",), 2, 8, 1.5, 100, True),
}
CLOCK_OF_KIND: Mapping[str, Kind] = {
    "film": "biofilm",
    "powder": "powder",
    "staple": "staple",
    "protein": "protein",
    "greens": "greens",
}
"""The clocks that space the feeds of one kind and fill a table's days."""
TABLE_CLOCKS: Mapping[Table, tuple[str, ...]] = {
    "fine": ("first_fine", "fine"),
    "ground": ("ground",),
    "fan": ("fan",),
}
"""The clocks that say how often there is food at a table."""


Span = tuple[int, int]
"""From a day on, up to the day before another."""


@dataclass(frozen=True, slots=True)
class Living:
    """Who lives in a tank and when."""

    stages: Mapping[Stage, Span]
    hatch: int | None
    poor: bool

    def has(self, stage: Stage, day: int) -> bool:
        first, end = self.stages.get(stage, (0, 0))
        return first <= day < end

    def wants(self, clock: str, day: int) -> bool:
        """Whether the tank holds animals on this day that have a clock's need."""
        shrimplets = self.has("shrimplet", day)
        grown = self.has("juvenile", day) or self.has("adult", day)
        first = shrimplets and self.hatch is not None and self.hatch <= day < self.hatch + 14
        needs = {
            "first_fine": first,
            "fine": not first and (shrimplets or (self.poor and self.has("juvenile", day))),
            "film": shrimplets or (self.hatch is not None and self.hatch - 5 <= day < self.hatch),
            "powder": shrimplets,
            "fan": self.has("filter_feeder", day),
            "mineral": shrimplets or grown,
        }
        return needs.get(clock, grown)
