"""What a week brought to the animals: hatches, deaths, and hatches that were counted at an age."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from schedules.history.life import Life
from schedules.review.survival import cohorts_of


@dataclass(frozen=True, slots=True)
class CountedHatch:
    """A hatch that was counted: its age, how many were there (or left alive before), and how many had hatched."""

    tank: str
    hatched: date
    age: int
    heads: int
    born: int


@dataclass(frozen=True, slots=True)
class Animals:
    """A week's hatches (tank, day, heads as the fold holds them), dead and missing heads, and counts of hatches."""

    hatches: tuple[tuple[str, date, int], ...]
    dead: int
    missing: int
    counted: tuple[CountedHatch, ...]


def animals_of(life: Life, days: Sequence[date]) -> Animals:
    """What happened to the animals on some days."""
    within = set(days)
    changes = [change for change in life.changes if change.day in within]
    counted = [
        CountedHatch(cohort.tank, cohort.day, each.age, each.heads, cohort.born.number)
        for cohort in cohorts_of(life, days[-1])
        for each in cohort.counts
        if cohort.day + timedelta(days=each.age) in within
    ]
    return Animals(
        hatches=tuple((each.tank, each.day, each.heads) for each in changes if each.kind == "hatched"),
        dead=sum(each.heads for each in changes if each.kind == "dead"),
        missing=sum(each.heads for each in changes if each.kind == "missing"),
        counted=tuple(counted),
    )
