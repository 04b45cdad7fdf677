"""A flag: what was found, how bad it is, on what evidence, and the one thing to do."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from schedules.review.flags.evidence import Advice, Evidence
from schedules.room.kinds import Severity

FlagKind = Literal[
    "over_ration",
    "under_gap",
    "under_clock_gap",
    "doubled",
    "week_over_target",
    "leftovers",
    "leftovers_twice",
    "raised_after_leftovers",
    "powder_on_still",
    "unaccompanied",
    "past_date",
    "far_from_planned",
    "ammonia_load",
    "nobody_came",
    "no_fine_feed",
    "no_fan_feed",
    "no_mineral",
    "nothing_given",
    "deaths",
    "deaths_in_rack",
    "ammonia_read",
    "water_of_rack",
    "water_limit",
    "water_step",
    "water_drift",
    "water_target",
]

RANK: Final[dict[Severity, int]] = {"high": 0, "medium": 1, "low": 2}
"""The order of severities, worst first."""


@dataclass(frozen=True, slots=True)
class Flag:
    """One finding about a tank, `feed` None where it is about the tank as a whole.

    `day` is the room's date that it is about, `evidence` what it is read off, `advice` the code of the one thing to do.
    `extent` is how much of it there is, in a measure of its kind's own (shares, days, servings, mg/L), 0 where there
    is no more or less of it.
    """

    kind: FlagKind
    severity: Severity
    tank: str
    feed: str | None
    day: date
    evidence: Evidence
    advice: Advice
    extent: float = 0.0

    @property
    def key(self) -> tuple[FlagKind, str, str | None, date]:
        """What tells this flag from every other; stays the same while its evidence grows."""
        return (self.kind, self.tank, self.feed, self.day)
