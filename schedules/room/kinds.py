"""The kinds of feed, the stages of the animals, how bad a flag is: the trade's words, and each kind's usual rule."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

Stage = Literal["shrimplet", "juvenile", "adult", "filter_feeder"]
Kind = Literal["biofilm", "powder", "suspension", "mineral", "staple", "protein", "greens"]
Method = Literal["surface", "premixed", "flow", "placed"]
Surface = Literal["still", "rippled", "broken"]
Grazing = Literal["poor", "fair", "rich"]
Severity = Literal["high", "medium", "low"]

STAGES: Final[tuple[Stage, ...]] = ("shrimplet", "juvenile", "adult", "filter_feeder")
KINDS: Final[tuple[Kind, ...]] = ("biofilm", "powder", "suspension", "mineral", "staple", "protein", "greens")
FINE: Final[frozenset[Kind]] = frozenset(("biofilm", "powder", "suspension"))
"""Fine feeds; every other kind is solid. A tank's rest day holds back solid feeds only."""
ACCOMPANIED: Final[frozenset[Kind]] = frozenset(("biofilm", "powder"))
"""Fine feeds that adults take from the shrimplets unless a solid feed draws them away on the same day."""


@dataclass(frozen=True, slots=True)
class KindDefault:
    """What a feed of one kind is taken to be until the keeper says otherwise.

    Every number here is common practice, no source; the keeper can set each one for a feed or for one tank.

    Gaps in days, weekly target in servings, share as a part of a day's ration (0 to 1), minutes of handling for one
    serving, measure in mg, smallest step in measures, protein as a fraction, label amount in measures per litre.
    """

    stages: tuple[Stage, ...]
    group: str | None
    min_gap: int
    max_gap: int
    per_week: float
    share: float
    minutes: float
    method: Method
    gone_after_hours: float
    even_on_days_off: bool
    measure_name: str
    measure_mg: float
    measure_step: float
    protein: float
    label_litres_per_measure: float


KIND_DEFAULTS: Final[dict[Kind, KindDefault]] = {
    "biofilm": KindDefault(
        ("shrimplet", "juvenile"), None, 2, 4, 2.0, 0.3, 0.5, "premixed", 24.0, False, "spoon", 60.0, 0.25, 0.30, 24.0
    ),
    "powder": KindDefault(
        ("shrimplet", "juvenile"), None, 1, 3, 3.0, 0.3, 0.6, "premixed", 12.0, False, "spoon", 60.0, 0.25, 0.42, 20.0
    ),
    "suspension": KindDefault(
        ("filter_feeder",), None, 2, 4, 2.5, 0.3, 1.0, "flow", 6.0, False, "spoon", 60.0, 0.25, 0.38, 20.0
    ),
    "mineral": KindDefault(
        ("shrimplet", "juvenile", "adult"),
        None,
        3,
        8,
        1.0,
        0.3,
        0.4,
        "placed",
        24.0,
        False,
        "crumb",
        20.0,
        0.5,
        0.1,
        8.0,
    ),
    "staple": KindDefault(
        ("juvenile", "adult"), "staples", 2, 7, 1.5, 0.6, 0.3, "placed", 4.0, False, "pellet", 10.0, 0.5, 0.35, 4.0
    ),
    "protein": KindDefault(
        ("juvenile", "adult"), None, 4, 9, 1.0, 0.5, 0.4, "placed", 3.0, False, "pellet", 10.0, 0.5, 0.48, 4.0
    ),
    "greens": KindDefault(
        ("juvenile", "adult"), None, 3, 9, 1.0, 0.5, 0.5, "placed", 12.0, False, "piece", 20.0, 0.5, 0.22, 10.0
    ),
}


def is_fine(kind: Kind) -> bool:
    """Whether a kind is a fine feed (biofilm, powder, suspension) rather than a solid one."""
    return kind in FINE
