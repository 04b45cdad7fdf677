"""Cohorts side by side: by tank, line, month of the hatch, or how much of the planned fine feed was given."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final, Literal

from schedules.review.survival.cohorts import AGES, Cohort
from schedules.review.survival.feeding import FineFeed
from schedules.review.survival.statistics import Share, kaplan_meier, share_at, wilson_of_ranges

By = Literal["tank", "line", "month", "feeding"]
FEW_COHORTS: Final = 5
FEW_HEADS: Final = 30
"""Fewer cohorts or young than this are called few. Common practice, no source."""
BANDS: Final = ((0.5, "under_half"), (0.8, "half_to_80"), (1.01, "over_80"))
"""Parts of the planned fine feed of the first 14 days, each band up to its number."""


@dataclass(frozen=True, slots=True)
class Grouped:
    """Cohorts that have something in common. `name` is a tank, a line, a month (YYYY-MM) or a band of `BANDS`.

    `survival` holds for each age of `AGES` the share alive of all young of those cohorts that were counted near it, and
    `counted` how many cohorts these are. `curve` is the share alive at each age by Kaplan and Meier.
    """

    name: str
    cohorts: int
    born: int
    counted: Mapping[int, int]
    survival: Mapping[int, Share | None]
    curve: Mapping[int, float]

    @property
    def few(self) -> bool:
        """Whether too little is known to say much."""
        return self.cohorts < FEW_COHORTS or self.born < FEW_HEADS


def grouped(cohorts: Iterable[Cohort], by: By, feeding: Mapping[int, FineFeed]) -> tuple[Grouped, ...]:
    """The cohorts in groups, by name; `feeding` is how each cohort was fed in its first 14 days, by origin."""
    names: dict[By, Callable[[Cohort], str]] = {
        "tank": lambda cohort: cohort.tank,
        "line": lambda cohort: cohort.line or "",
        "month": lambda cohort: cohort.day.strftime("%Y-%m"),
        "feeding": lambda cohort: _band(feeding[cohort.origin]),
    }
    groups: dict[str, list[Cohort]] = {}
    for cohort in cohorts:
        groups.setdefault(names[by](cohort), []).append(cohort)
    return tuple(_group(name, groups[name]) for name in sorted(groups))


def _band(fed: FineFeed) -> str:
    share = fed.share
    return "unplanned" if share is None else next(name for most, name in BANDS if share < most)


def _group(name: str, cohorts: list[Cohort]) -> Grouped:
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
