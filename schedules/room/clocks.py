"""Clocks: the needs of a tank that any of several feeds answers, and how often each is to be answered.

The default table is common practice, no source; every number of it can be set for the room and for one tank.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from schedules.room.kinds import Kind, Stage, Table

FIRST_FINE_DAYS: Final = 14
"""For so many days after a hatch shrimplets are to find fine feed daily. Common practice, no source."""
FILM_BEFORE_HATCH_DAYS: Final = 5
"""So long before an expected hatch film is begun, as it takes days to grow. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Audience:
    """Which animals have a need: their stages, those only where grazing is poor, and days around a hatch.

    With `after_hatch` the need is there only within the first days after a hatch, with `not_after_hatch` only outside
    them; `before_hatch` days ahead of a hatch that is expected it is there too.
    """

    stages: frozenset[Stage]
    where_grazing_is_poor: frozenset[Stage] = frozenset()
    after_hatch: bool = False
    not_after_hatch: bool = False
    before_hatch: int = 0


@dataclass(frozen=True, slots=True)
class ClockRules:
    """One need: the kinds of feed that answer it, the animals that have it, how often it is to be answered.

    Gaps are days, `per_week` days a week, `overdue` the cost of one overdue day. Without `max_gap` no day is overdue,
    without `per_week` a week has no target. With `rotate` its feeds take turns. `table` is set for the clocks that say
    how often there is food at a table at all. `min_gap_falls` says that the shortest gap is only usual, and gives way
    where a table's days could not be filled otherwise; one that the keeper wrote does not.
    """

    kinds: frozenset[Kind]
    audience: Audience
    min_gap: int
    max_gap: int | None
    per_week: float | None
    overdue: float | None
    rotate: bool
    table: Table | None = None
    min_gap_falls: bool = True


_SHRIMPLETS: Final = frozenset[Stage](("shrimplet",))
_JUVENILES: Final = frozenset[Stage](("juvenile",))
_GROWN: Final = frozenset[Stage](("juvenile", "adult"))
_FINE: Final = frozenset[Kind](("biofilm", "powder"))
_GROUND: Final = frozenset[Kind](("staple", "protein", "greens"))

DEFAULT_CLOCKS: Final[dict[str, ClockRules]] = {
    "first_fine": ClockRules(_FINE, Audience(_SHRIMPLETS, after_hatch=True), 0, 2, 7, 300, False, "fine"),
    "fine": ClockRules(
        _FINE,
        Audience(_SHRIMPLETS, where_grazing_is_poor=_JUVENILES, not_after_hatch=True),
        *(0, 2, 5, 300, False, "fine"),
    ),
    "film": ClockRules(
        frozenset(("biofilm",)),
        Audience(_SHRIMPLETS, where_grazing_is_poor=_JUVENILES, before_hatch=FILM_BEFORE_HATCH_DAYS),
        *(2, 5, 2, 50, True),
    ),
    "powder": ClockRules(
        frozenset(("powder",)), Audience(_SHRIMPLETS, where_grazing_is_poor=_JUVENILES), 1, None, None, None, True
    ),
    "fan": ClockRules(frozenset(("suspension",)), Audience(frozenset(("filter_feeder",))), 1, 3, 3, 200, True, "fan"),
    "ground": ClockRules(_GROUND, Audience(_GROWN), 0, 3, 5, 200, False, "ground"),
    "staple": ClockRules(frozenset(("staple",)), Audience(_GROWN), 2, None, None, None, True),
    "protein": ClockRules(frozenset(("protein",)), Audience(_GROWN), 4, 10, 1, 50, True),
    "greens": ClockRules(frozenset(("greens",)), Audience(_GROWN), 3, 9, 1.5, 50, True),
    "mineral": ClockRules(frozenset(("mineral",)), Audience(_GROWN | _SHRIMPLETS), 2, 8, 1.5, 100, True),
}
"""The clocks a tank gets until the keeper says otherwise. Common practice, no source.

Film and powder are wanted wherever fine feed is, so that film keeps to its two days and powder fills the others.
"""

OWN_CLOCK_OVERDUE: Final = 50.0
"""What an overdue day of a clock weighs to which the keeper gave a longest gap and no weight. No source."""
EXTRA_MIN_GAP, EXTRA_MAX_GAP, EXTRA_PER_WEEK, EXTRA_OVERDUE = 5, 14, 1.0, 20.0
"""An extra (a leaf as grazing surface) is looked after about once a week. Common practice, no source."""


OWN_CLOCK: Final = "feed:"
"""What the id of a feed's own clock starts with; no clock of the table has a colon in its id."""


def own_clock_id(feed: str) -> str:
    """The id of a feed's own clock."""
    return f"{OWN_CLOCK}{feed}"
