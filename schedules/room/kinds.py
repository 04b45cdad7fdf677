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
Table = Literal["fine", "ground", "fan"]
"""Where a feed is eaten: in the water and on surfaces, on the ground, by fans out of the current."""
Breaks = Literal["whole", "half", "quarter", "crumb"]
"""How far a piece can be divided by hand."""

STAGES: Final[tuple[Stage, ...]] = ("shrimplet", "juvenile", "adult", "filter_feeder")
KINDS: Final[tuple[Kind, ...]] = ("biofilm", "powder", "suspension", "mineral", "staple", "protein", "greens")
FINE: Final[frozenset[Kind]] = frozenset(("biofilm", "powder", "suspension"))
"""Fine feeds; every other kind is solid. A tank's rest day holds back solid feeds only."""
ACCOMPANIED: Final[frozenset[Kind]] = frozenset(("biofilm", "powder"))
"""Fine feeds that adults take from the shrimplets unless a feed that draws them is given on the same day."""
DRAWING: Final[frozenset[Kind]] = frozenset(("staple", "protein"))
"""Kinds that gather the adults at one spot. Common practice, no source; a feed can say otherwise."""
TABLE_OF_KIND: Final[dict[Kind, Table]] = {
    "biofilm": "fine",
    "powder": "fine",
    "suspension": "fan",
    "mineral": "ground",
    "staple": "ground",
    "protein": "ground",
    "greens": "ground",
}
STEP_OF_BREAK: Final[dict[Breaks, float]] = {"whole": 1.0, "half": 0.5, "quarter": 0.25, "crumb": 0.1}
"""The smallest part of a piece that a hand can make. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class KindDefault:
    """What a feed of one kind is taken to be until the keeper says otherwise.

    Every number here is common practice, no source; the keeper can set each one for a feed or for one tank.

    How often it is given is for the clocks (`clocks.py`) to say. `share` and `most` are the least and the largest part
    of its table's ration of a day that one serving takes (0 to 1); minutes of handling for one serving, measure in mg,
    smallest step in measures, protein as a fraction, label amount in litres for one measure.
    """

    stages: tuple[Stage, ...]
    share: float
    most: float
    minutes: float
    method: Method
    gone_after_hours: float
    even_on_days_off: bool
    measure_name: str
    measure_mg: float
    measure_step: float
    protein: float
    label_litres_per_measure: float


# Why these shares (common practice, no source): a usual day's servings at one table must fit into one ration.
# biofilm, powder .3: film and two powders may meet on one day, and a pinch of each is still worth opening the jar.
# suspension .5: two sorts of a day share the fans' ration; it is never less than half a portion.
# mineral .1: a crumb beside a meal, at most .3 on a day without one, since it feeds little.
# staple .5: half a meal beside protein or greens, a full one alone.
# protein, greens .4: a part of a meal beside a staple and a crumb; protein at most .6, as much of it fouls the water.
KIND_DEFAULTS: Final[dict[Kind, KindDefault]] = {
    "biofilm": KindDefault(
        stages=("shrimplet", "juvenile"),
        share=0.3,
        most=0.6,
        minutes=0.5,
        method="premixed",
        gone_after_hours=24.0,
        even_on_days_off=False,
        measure_name="spoon",
        measure_mg=60.0,
        measure_step=0.25,
        protein=0.3,
        label_litres_per_measure=24.0,
    ),
    "powder": KindDefault(
        stages=("shrimplet", "juvenile"),
        share=0.3,
        most=1.0,
        minutes=0.6,
        method="premixed",
        gone_after_hours=12.0,
        even_on_days_off=False,
        measure_name="spoon",
        measure_mg=60.0,
        measure_step=0.25,
        protein=0.42,
        label_litres_per_measure=20.0,
    ),
    "suspension": KindDefault(
        stages=("filter_feeder",),
        share=0.5,
        most=1.0,
        minutes=1.0,
        method="flow",
        gone_after_hours=6.0,
        even_on_days_off=False,
        measure_name="spoon",
        measure_mg=60.0,
        measure_step=0.25,
        protein=0.38,
        label_litres_per_measure=20.0,
    ),
    "mineral": KindDefault(
        stages=("shrimplet", "juvenile", "adult"),
        share=0.1,
        most=0.3,
        minutes=0.4,
        method="placed",
        gone_after_hours=24.0,
        even_on_days_off=False,
        measure_name="crumb",
        measure_mg=20.0,
        measure_step=0.5,
        protein=0.1,
        label_litres_per_measure=8.0,
    ),
    "staple": KindDefault(
        stages=("juvenile", "adult"),
        share=0.5,
        most=1.0,
        minutes=0.3,
        method="placed",
        gone_after_hours=4.0,
        even_on_days_off=False,
        measure_name="pellet",
        measure_mg=10.0,
        measure_step=0.5,
        protein=0.35,
        label_litres_per_measure=4.0,
    ),
    "protein": KindDefault(
        stages=("juvenile", "adult"),
        share=0.4,
        most=0.6,
        minutes=0.4,
        method="placed",
        gone_after_hours=3.0,
        even_on_days_off=False,
        measure_name="pellet",
        measure_mg=10.0,
        measure_step=0.5,
        protein=0.48,
        label_litres_per_measure=4.0,
    ),
    "greens": KindDefault(
        stages=("juvenile", "adult"),
        share=0.4,
        most=1.0,
        minutes=0.5,
        method="placed",
        gone_after_hours=12.0,
        even_on_days_off=False,
        measure_name="piece",
        measure_mg=20.0,
        measure_step=0.5,
        protein=0.22,
        label_litres_per_measure=10.0,
    ),
}


def is_fine(kind: Kind) -> bool:
    """Whether a kind is a fine feed (biofilm, powder, suspension) rather than a solid one."""
    return kind in FINE


def table_of(kind: Kind) -> Table:
    """Where a kind is eaten."""
    return TABLE_OF_KIND[kind]
