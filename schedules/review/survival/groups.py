"""Cohorts side by side: by tank, line, month or season of the hatch, temperature, or fine feed really given."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final, Literal

from schedules.review.survival.cohorts import AGES, Cohort
from schedules.review.survival.conditions import Conditions, Together, together
from schedules.review.survival.feeding import FineFeed
from schedules.review.survival.statistics import Share, kaplan_meier, share_at, wilson_of_ranges

By = Literal["tank", "line", "month", "season", "temperature", "feeding"]
FEW_COHORTS: Final = 5
FEW_HEADS: Final = 30
"""Fewer cohorts or young than this are called few. Common practice, no source."""
BANDS: Final = ((0.5, "under_half"), (0.8, "half_to_80"), (1.01, "over_80"))
"""Parts of the planned fine feed of the first 14 days, each band up to its number."""
SEASONS: Final = ("dec_to_feb", "mar_to_may", "jun_to_aug", "sep_to_nov")
"""Three months each, by the month of the hatch: which of them is the warm one depends on where the room is."""
TEMPERATURES: Final = ((22.0, "under_22"), (24.0, "22_to_24"), (26.0, "24_to_26"), (28.0, "26_to_28"))
"""Bands of °C, each up to its number; 24 and 28 are those that were compared (Tropea and others 2015)."""
ORDER: Final = (
    *(name for _, name in BANDS),
    "unplanned",
    *SEASONS,
    *(name for _, name in TEMPERATURES),
    "28_and_over",
    "unmeasured",
)
"""The order of all groups that are not simply sorted by name."""


@dataclass(frozen=True, slots=True)
class Grouped:
    """Cohorts that have something in common. `name` is a tank, a line, a month (YYYY-MM) or one of `ORDER`.

    `survival` holds for each age of `AGES` the share alive of all young of those cohorts that were counted near it, and
    `counted` how many cohorts these are. `curve` is the share alive at each age by Kaplan and Meier. `began` sums up
    the conditions they began under.
    """

    name: str
    cohorts: int
    born: int
    counted: Mapping[int, int]
    survival: Mapping[int, Share | None]
    curve: Mapping[int, float]
    began: Together

    @property
    def few(self) -> bool:
        """Whether too little is known to say much."""
        return self.cohorts < FEW_COHORTS or self.born < FEW_HEADS


def grouped(cohorts: Iterable[Cohort], by: By, began: Mapping[int, Conditions]) -> tuple[Grouped, ...]:
    """The cohorts in groups, in order; `began` are the conditions each cohort began under, by origin."""
    names: dict[By, Callable[[Cohort], str]] = {
        "tank": lambda cohort: cohort.tank,
        "line": lambda cohort: cohort.line or "",
        "month": lambda cohort: cohort.day.strftime("%Y-%m"),
        "season": lambda cohort: SEASONS[cohort.day.month % 12 // 3],
        "temperature": lambda cohort: _warmth(began[cohort.origin].celsius),
        "feeding": lambda cohort: _band(began[cohort.origin].fed[14]),
    }
    groups: dict[str, list[Cohort]] = {}
    for cohort in cohorts:
        groups.setdefault(names[by](cohort), []).append(cohort)
    names_in_order = sorted(groups, key=lambda name: (ORDER.index(name) if name in ORDER else -1, name))
    return tuple(_group(name, groups[name], began) for name in names_in_order)


def _band(fed: FineFeed) -> str:
    share = fed.share
    return "unplanned" if share is None else next(name for most, name in BANDS if share < most)


def _warmth(celsius: float | None) -> str:
    if celsius is None:
        return "unmeasured"
    return next((name for most, name in TEMPERATURES if celsius < most), "28_and_over")


def _group(name: str, cohorts: list[Cohort], began: Mapping[int, Conditions]) -> Grouped:
    steps = kaplan_meier(
        (death for cohort in cohorts for death in cohort.deaths), (gone for cohort in cohorts for gone in cohort.left)
    )
    counted = {age: [cohort for cohort in cohorts if cohort.count_at(age)] for age in AGES}
    return Grouped(
        name,
        len(cohorts),
        sum(cohort.born.number for cohort in cohorts),
        {age: len(found) for age, found in counted.items()},
        {age: _share(found, age) for age, found in counted.items()},
        {age: share_at(steps, age) for age in AGES},
        together(began[cohort.origin] for cohort in cohorts),
    )


def _share(cohorts: list[Cohort], age: int) -> Share | None:
    counts = [count for cohort in cohorts if (count := cohort.count_at(age)) is not None]
    born = sum(cohort.born.number for cohort in cohorts)
    if not counts or not born:
        return None
    ranges = [cohort.born.range for cohort in cohorts]
    return wilson_of_ranges(
        sum(count.heads for count in counts),
        (sum(count.low for count in counts), sum(count.high for count in counts)),
        born,
        (sum(low for low, _ in ranges), sum(high for _, high in ranges)),
    )


def apart(groups: Iterable[Grouped], age: int) -> tuple[tuple[Grouped, Grouped], ...]:
    """Pairs of groups whose intervals at an age do not meet, the one in which more live first."""
    known = [(group, share) for group in groups if (share := group.survival[age]) is not None]
    return tuple((one, other) for one, high in known for other, low in known if high.low > low.high)
