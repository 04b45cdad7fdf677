"""What `report` prints."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from schedules.review.flags import FlagKind, Severity
from schedules.room.kinds import Table
from schedules.room.water.quantities import Quantity
from tui.cli.formats.base import Amount, Count, Day, Part
from tui.cli.formats.stock import FeedOnShelf


class WeekRound(Part):
    """One round of a day, and what became of the servings due in it."""

    day: Day
    round: str
    due: Count
    given: Count
    skipped: Count
    missed: Count
    away: bool
    """whether a helper fed by a leave plan"""
    minutes: Amount
    """from the first mark of the round to its last"""
    kept: bool
    """whether nothing was missed"""


class Because(Part):
    """Why servings were left out: a code, and the keeper's own words with the code `other`."""

    code: str
    text: str | None


class LeftOut(Part):
    """How often servings were left out for a reason."""

    because: Because
    times: Count


class WeekFlags(Part):
    """How many flags of a kind and severity stood at the week's end."""

    kind: FlagKind
    severity: Severity
    times: Count


class WeekFeed(Part):
    """Dry feed planned and given at a table, extras left out."""

    table: Table
    planned_mg: Amount
    given_mg: Amount
    ration_mg: Amount
    """the ration of every tank on every day on which it was given anything at this table"""
    tank_days: Count
    """how many days those are, over all tanks"""


class Steadiness(Part):
    """How steady a quantity of the water was, in the units of the ledger."""

    quantity: Quantity
    readings: Count
    """days on which it was read, over all tanks"""
    tanks: Count
    widest: Amount | None
    """the largest difference between two days of one tank; null where no tank was read twice"""
    tank: str | None


class WeekHatch(Part):
    """A hatch of the week."""

    tank: str
    day: Day
    heads: Count


class WeekCount(Part):
    """A hatch that was counted in the week."""

    tank: str
    hatched: Day
    age: Count
    """in days"""
    heads: Count
    born: Count


class WeekChore(Part):
    """A chore over the week, at all its places."""

    chore: str
    done: Count
    left_out: Count
    missed: Count
    """turns of which the last day went by with nothing marked"""
    late: Count
    """places at which it was past its last day when the week ended"""
    minutes: Amount
    """of the times it was done"""


class OpenedPack(Part):
    """A pack that was opened."""

    day: Day
    lot: str | None


class WeekStock(Part):
    """A feed over the week, in grams."""

    given: Amount
    came: Amount
    packs: list[OpenedPack]
    then: FeedOnShelf
    """as it stood on the last of the week's days"""


class ReportWeek(Part):
    """A week, Monday to Sunday."""

    monday: Day
    days: Annotated[int, Field(ge=1, le=7)]
    """days that are over or have begun"""
    minutes: Amount
    """at the racks"""
    rounds: list[WeekRound]
    left_out: list[LeftOut]
    flags: list[WeekFlags]
    feed: list[WeekFeed]
    water: list[Steadiness]
    hatches: list[WeekHatch]
    counted: list[WeekCount]
    dead: Count
    missing: Count
    """animals that a count did not find"""
    chores: list[WeekChore]
    stock: list[WeekStock]


class Report(Part):
    """`rackround report --json`: the week before, and the week."""

    format: Literal["rackround-report/1"]
    date: Day
    weeks: list[ReportWeek]
