"""A reason: a code and the values that go with it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Code = Literal[
    # for a serving
    "since_last",  # clock, days since its last answer, limit: its longest gap (None: it has none)
    "first_wanted",  # clock never answered: days for which it has been wanted, limit
    "of_week",  # clock, days answered this week with this one, limit: the week's target
    "in_turn",  # clock, feeds: the one given before
    "draws",  # feeds: those it draws the adults from
    "posted",
    # against one: hard rules
    "not_wanted",
    "not_open",
    "feed_gap",  # days to the serving in the way (negative: earlier), limit: the feed's shortest gap
    "clock_gap",  # clock, days to its answer in the way, limit: its shortest gap, feeds: what is given then
    "table_full",  # feeds at the table that day, limit: the share it needs
    # against one: costs
    "week_full",  # clock, limit: the week's target
    "repeat",  # clock, feeds: those that could be given instead
    "unaccompanied",
    "longer_round",  # limit: by how many minutes
    "not_posted",
    "nothing",
]
HARD: tuple[Code, ...] = ("not_wanted", "not_open", "feed_gap", "clock_gap", "table_full")
"""The codes of hard rules."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a feed is given or not; which fields a code uses stands beside the code."""

    code: Code
    clock: str = ""
    feeds: tuple[str, ...] = ()
    days: int = 0
    limit: float | None = None
