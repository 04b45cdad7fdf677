"""The values of a planning problem and of a plan, one field for each in the plan's JSON (planning rules, form 2).

Days are numbered from the plan's first day, 0; a day before it is negative.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal, NamedTuple

from schedules.room.kinds import Kind

Table = Literal["fine", "ground", "fan"]
"""Where a feed is eaten. Each table has a day's ration of its own."""


class Slot(NamedTuple):
    """One serving's place in a plan: which feed for which tank on which day."""

    day: int
    tank: str
    feed: str


class LastAnswer(NamedTuple):
    """The last serving of a clock's feeds before day 0; of several on that day, the last in order of id."""

    day: int
    feed: str


@dataclass(frozen=True, slots=True)
class Clock:
    """A need of one tank that any of several feeds answers.

    Gaps are days; `per_week` is days a week; `overdue` is the cost of one overdue day. Without a `max_gap` no day is
    ever overdue, without a `per_week` the week has no target. `wanted` are ascending day numbers; `wanted_since` is the
    first day of the run of wanted days that day 0 lies in, None where day 0 is not wanted. `earlier_days` and
    `earlier_wanted` count the wanted days served and the wanted days from the Monday of day 0's week to the day before.
    """

    feeds: tuple[str, ...]
    min_gap: int
    max_gap: int | None
    per_week: float | None
    overdue: float | None
    rotate: bool
    wanted: tuple[int, ...]
    wanted_since: int | None = None
    last: LastAnswer | None = None
    earlier_days: int = 0
    earlier_wanted: int = 0


@dataclass(frozen=True, slots=True)
class PlanFeed:
    """One feed in one tank. `open` are ascending day numbers, `minutes` the handling time of one serving.

    `share` and `most` are the least and the largest part of its table's ration of a day that one serving takes.
    """

    kind: Kind
    table: Table
    round: str
    draws: bool
    min_gap: int
    share: float
    most: float
    minutes: float
    open: tuple[int, ...]
    last: int | None = None


@dataclass(frozen=True, slots=True)
class TankProblem:
    """One tank: the days on which adults are present, its clocks and its feeds by id."""

    adults: tuple[int, ...]
    clocks: Mapping[str, Clock]
    feeds: Mapping[str, PlanFeed]


@dataclass(frozen=True, slots=True)
class Problem:
    """A room's planning problem over `days` days from `start`.

    `posted` holds the servings that were posted for days 0 to `posted_days` - 1; with `posted_days` 0 nothing was.
    """

    start: date
    days: int
    tanks: Mapping[str, TankProblem]
    posted: tuple[Slot, ...] = ()
    posted_days: int = 0


@dataclass(frozen=True, slots=True)
class Cost:
    """The cost of a plan by name, weights applied."""

    overdue: float
    unaccompanied: float
    weekly: float
    repeat: float
    longest_round: float
    churn: float
    late_churn: float

    @property
    def total(self) -> float:
        """The sum of all costs."""
        return (
            self.overdue
            + self.unaccompanied
            + self.weekly
            + self.repeat
            + self.longest_round
            + self.churn
            + self.late_churn
        )


@dataclass(frozen=True, slots=True)
class Plan:
    """Slots in the order (day, tank, feed), their cost, and a proven lower bound on the cost where there is one."""

    slots: tuple[Slot, ...]
    cost: Cost
    bound: float | None
