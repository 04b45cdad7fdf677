"""What `lives`, `expected`, `survival` and `lines` print."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from schedules.review.expected import State
from schedules.review.survival.groups import By
from schedules.room.kinds import Stage
from tui.cli.formats.base import Count, Day, Heads, Part, Share


class Animals(Part):
    """Animals of one stage in a tank, from when to when."""

    stage: Stage
    heads: Count
    berried: Count
    expected: bool
    """whether they are foreseen and were not seen"""
    hatched: Day | None
    since: Day | None = Field(alias="from")
    to: Day | None


class Disagreement(Part):
    """Two statements that do not fit."""

    kind: Literal["count", "more_left", "hatch_foreseen", "hatch_twice"]
    date: Day
    stage: Stage
    known: Count
    seen: Heads
    other_date: Day | None


class Quarantine(Part):
    """The quarantine of a tank: so many days from the day on which the last animals came in."""

    days: Count | None
    arrived: Day | None
    until: Day | None
    over: bool
    ends: str | None
    """what has to be seen as well, in the keeper's words"""
    tools: str | None


class TankLives(Part):
    """Who lives in one tank."""

    tank: str
    line: str | None
    """the room file's; where one tank is asked for, else the line that last came into it"""
    generation: Count | None
    heads: dict[Stage, Count]
    animals: list[Animals]
    quarantine: Quarantine | None
    disagreements: list[Disagreement]


class Lives(Part):
    """`rackround lives --json`: tanks in the order they are walked."""

    format: Literal["rackround-lives/1"]
    date: Day
    tanks: list[TankLives]


class Hatch(Part):
    """A hatch that is expected."""

    tank: str
    state: State
    females: Count | None
    heads: Count | None
    berried: Day | None
    eyed: Day | None
    first: Day | None
    """the first and the last day it is expected on; null where that cannot be said"""
    last: Day | None
    film_from: Day | None


class ExpectedHatches(Part):
    """`rackround expected --json`: by day."""

    format: Literal["rackround-expected/1"]
    date: Day
    hatches: list[Hatch]


class Interval(Part):
    """A share with its interval of 95 % (Wilson), over the whole range of what was counted."""

    share: Share
    low: Share
    high: Share


class FineFeed(Part):
    """How a cohort was fed in its first days."""

    days: Count
    planned: Count
    given: Count
    share: float | None = Field(ge=0)
    """given of planned; null where nothing was planned"""
    days_without: Count
    days_missed: Count


class Cohort(Part):
    """The young of one hatch."""

    tank: str
    date: Day
    line: str | None
    born: Heads
    survival: dict[str, Interval | None]
    """by age in days; null where they were not counted near it"""
    fine_feed: dict[str, FineFeed]
    """by the number of first days"""
    missed_rounds: Count
    """rounds of the first 30 days at which something was due in the tank and nothing of it was marked"""
    flags: Count
    """flags of the tank about the first 30 days"""
    temperature: float | None
    """mean of the readings of the first 30 days in °C, else the last before, else the room file's"""


class Group(Part):
    """Cohorts that have something in common."""

    name: str
    cohorts: Count
    born: Count
    few: bool
    """whether too little is known to say much"""
    counted: dict[str, Count]
    """cohorts counted, by age in days"""
    survival: dict[str, Interval | None]
    kaplan_meier: dict[str, Share]
    fine_feed: dict[str, FineFeed]
    """sums over the cohorts, by the number of first days"""
    missed_rounds: Count
    flags: Count


class Survival(Part):
    """`rackround survival --json`: the hatches of about the last year."""

    format: Literal["rackround-survival/1"]
    by: By
    cohorts: list[Cohort]
    groups: list[Group]
    conclusion: str
    """what can be concluded, in English"""


class LineTank(Part):
    """A tank of a line."""

    tank: str
    generation: Count | None


class LineGrade(Part):
    """What became of the animals of one grade."""

    grade: str | None
    kept: Heads
    culled: Heads
    sold: Heads


class LineMove(Heads):
    """Animals moved from one tank to another."""

    date: Day
    tank: str = Field(alias="from")
    to: str
    stage: Stage
    grade: str | None
    from_line: str | None
    line: str | None
    generation: Count | None


class Line(Part):
    """A year of one line."""

    line: str | None
    """null for what belongs to no line"""
    tanks: list[LineTank]
    hatches: Count
    young: Heads
    added: Heads
    dead: Heads
    grades: list[LineGrade]
    moves: list[LineMove]


class Lines(Part):
    """`rackround lines --json`: by name, last what belongs to no line."""

    format: Literal["rackround-lines/1"]
    year: int
    lines: list[Line]
