"""What `missed`, `flags` and `changed` print."""

from __future__ import annotations

from typing import Any, Literal

from schedules.review.changes import ChangeKind
from schedules.review.flags import FlagKind, Severity
from schedules.review.flags.evidence import Advice
from schedules.review.missed.missed import Outcome
from schedules.room.water.quantities import Quantity
from schedules.water.watch.findings import FindingKind
from tui.cli.formats.base import Amount, Count, Day, Part
from tui.cli.formats.chores import Chore


class Flag(Part):
    """One thing that was too much, too little or too soon."""

    kind: FlagKind
    severity: Severity
    tank: str
    feed: str | None
    """null where it is about the tank as a whole"""
    day: Day
    evidence: str
    """what it was read off, in English"""
    advice: str
    """one thing to do, in English"""
    advice_code: Advice


class SeenFlag(Flag):
    """A flag, and who has set it aside as seen."""

    seen_by: list[str | None]
    """keepers by name"""


class Flags(Part):
    """`rackround flags --json`: worst first, what keepers have seen last."""

    format: Literal["rackround-flags/1"]
    date: Day
    flags: list[SeenFlag]


class Span(Part):
    """Days, the last one included."""

    first: Day
    last: Day


class MissedServing(Part):
    """A serving that was due and neither given nor skipped."""

    date: Day
    round: str
    tank: str
    feed: str
    amount: Amount
    """in `unit`"""
    unit: str
    need: str
    """the clock that weighs most of those the feed answers; empty where none does"""
    days_without: Count | None
    """null where the need was never answered"""
    max_gap: Count | None
    """the most it should be, in days; null where there is no limit"""
    overdue: bool
    outcome: Outcome
    on: Day | None
    """when it was or will be given; null where the plan has no other turn"""


class Missed(Part):
    """`rackround missed --json`: shrimplets first, then the longest without."""

    format: Literal["rackround-missed/1"]
    since: Day
    unposted: list[Span]
    """days for which no plan was posted"""
    missed: list[MissedServing]
    chores: list[Chore]
    """those past the last day of their window, the longest first"""


class MovedReading(Part):
    """A reading that left a tank's own past; the values are in the units of the entries."""

    kind: FindingKind
    quantity: Quantity
    before: float | None
    value: float
    since: Day | None
    tanks: list[str]


class Difference(Part):
    """Something that was different in a tank or on the rounds past its rack."""

    kind: ChangeKind
    date: Day
    tank: str | None
    what: str | None
    """the id of a feed, a make-up water or a salt, a quantity, or a keeper's name"""
    lot: str | None
    """of a pack that was opened, where it names one"""
    shared: Count
    """in how many tanks of the rack with deaths it was the same"""
    entry: dict[str, Any] | None
    """the line of the ledger that says it, as `schedules/ledger/README.md` describes it"""
    reading: MovedReading | None


class Changed(Part):
    """`rackround changed --json`: what several tanks with deaths have in common first."""

    format: Literal["rackround-changed/1"]
    tank: str
    days: Count
    differences: list[Difference]
