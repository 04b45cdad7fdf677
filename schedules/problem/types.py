"""What a planner is given: plain values, one field for each in the plan's JSON.

Days are numbered from the plan's first day, 0; a day before it is negative.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from schedules.room.kinds import Kind


class Slot(NamedTuple):
    """One serving's place in a plan: which feed for which tank on which day."""

    day: int
    tank: str
    feed: str


class LastOfGroup(NamedTuple):
    """The last serving of a rotation group before day 0."""

    day: int
    feed: str


@dataclass(frozen=True, slots=True)
class GroupTask:
    """A rotation group in one tank: the gap its servings keep and the last one before day 0."""

    min_gap: int
    last: LastOfGroup | None


@dataclass(frozen=True, slots=True)
class TankFeed:
    """One feed in one tank. `wanted` and `open` are ascending day numbers, `open` a part of `wanted`."""

    kind: Kind
    group: str | None
    round: str
    min_gap: int
    max_gap: int
    per_week: float
    share: float
    minutes: float
    wanted: tuple[int, ...]
    wanted_since: int | None
    open: tuple[int, ...]
    last: int | None
    given_this_week: int
    wanted_this_week: int


@dataclass(frozen=True, slots=True)
class TankProblem:
    """One tank: the days on which adults are present, its rotation groups, its feeds."""

    adults: tuple[int, ...]
    groups: Mapping[str, GroupTask]
    feeds: Mapping[str, TankFeed]


@dataclass(frozen=True, slots=True)
class Problem:
    """A room's planning problem over `days` days from `start`; `posted` holds the posted servings of days 0 to 6."""

    start: date
    days: int
    tanks: Mapping[str, TankProblem]
    posted: tuple[Slot, ...]
