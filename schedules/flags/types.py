"""A flag: what was found, how bad it is, on what evidence, and the one thing to do."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

FlagKind = Literal[
    "over_ration",
    "under_gap",
    "under_group_gap",
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
    "shrimplets_waiting",
    "nothing_given",
]
Severity = Literal["high", "middle", "low"]

RANK: Final[dict[Severity, int]] = {"high": 0, "middle": 1, "low": 2}
"""The order of severities, worst first."""


@dataclass(frozen=True, slots=True)
class Flag:
    """One finding about a tank, `feed` None where it is about the tank as a whole.

    `day` is the room's date that it is about, `evidence` one line of numbers (what, when, by whom), `advice` one act.
    """

    kind: FlagKind
    severity: Severity
    tank: str
    feed: str | None
    day: date
    evidence: str
    advice: str

    @property
    def key(self) -> tuple[FlagKind, str, str | None, date]:
        """What tells this flag from every other; stays the same while its evidence grows."""
        return (self.kind, self.tank, self.feed, self.day)
