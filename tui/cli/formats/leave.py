"""What `leave` prints."""

from __future__ import annotations

from typing import Literal

from schedules.room.kinds import Method, Table
from tui.cli.formats.base import Amount, Count, Day, Part, Share


class LeaveServing(Part):
    """A serving that the helper gives."""

    tank: str
    feed: str
    round: str
    part: Share
    """of its table's ration of that day"""
    amount: Amount
    """in `unit`"""
    unit: str
    """the feed's measure"""
    amount_mg: Amount
    method: Method


class Visit(Part):
    """A day on which the helper comes."""

    date: Day
    minutes: Amount
    """getting ready included"""
    servings: list[LeaveServing]
    """in walking order"""


class TableCost(Part):
    """What the days away cost one tank at one table. The names that begin with `usual` are those of the normal plan."""

    tank: str
    table: Table
    wanted: Count
    """days on which its animals eat there"""
    fed: Count
    """of those, days with feed by the leave plan"""
    usual: Count
    part: Amount
    """rations, added up"""
    usual_part: Amount
    mg: Amount
    usual_mg: Amount
    longest: Count | None
    """the longest wait in days, up to the day after the days away; null where nothing was ever given"""
    allowed: Count | None
    """the longest wait in days that the clocks allow; null where they set no limit"""


class Undrawn(Part):
    """A tank that gets powder for the young with nothing that draws the adults off."""

    tank: str
    visits: Count


class Cost(Part):
    """What the days away cost beside the normal plan, and how long the visits are, in minutes."""

    minutes: Amount
    longest_visit: Amount
    usual_minutes: Amount
    longest_usual: Amount
    left_out: list[str]
    """feeds of the normal plan that the leave plan does not give"""
    undrawn: list[Undrawn]
    usual_undrawn: Count
    """such days of the normal plan, over all tanks"""
    tables: list[TableCost]


class Leave(Part):
    """`rackround leave --json`: the days away as planned for a helper."""

    format: Literal["rackround-leave/1"]
    date: Day
    helper: str
    first: Day
    last: Day
    posted: bool
    """whether it was accepted and holds"""
    visits: list[Visit]
    cost: Cost
