"""What `round`, `prepare` and `lookback` print."""

from __future__ import annotations

from typing import Literal

from schedules.amounts.mixing.look_back import Look
from schedules.amounts.mixing.pick_list import Stage
from schedules.room.chores import Order
from schedules.round.types import State
from tui.cli.formats.base import Amount, Count, Day, Part
from tui.cli.formats.chores import Chore
from tui.cli.formats.review import Flag


class DrawOff(Part):
    """How the adults are drawn off before a powder."""

    feed: str | None
    """what goes in first; null where nothing that draws is due"""
    pieces: Amount | None
    adults: Count
    text: str
    """the same in English"""


class Serving(Part):
    """One feed at one stop."""

    feed: str
    amount: Amount
    """in `unit`"""
    unit: str
    amount_mg: Amount
    method: str
    part: Amount
    """of its table's ration of the day"""
    state: State
    why: str
    """why it is due, and why it is held back, in English"""


class Stop(Part):
    """One tank of the round, or a rack or the room with chores before or after its tanks."""

    tank: str | None
    """null for a stop of chores alone"""
    rack: str | None
    """the rack of a stop of chores alone; null for a tank, and for the room"""
    walk: Order
    draw_off: DrawOff | None
    servings: list[Serving]
    chores: list[Chore]
    flags: list[Flag]


class Round(Part):
    """`rackround round --json`: the stops in the order they are walked."""

    format: Literal["rackround-round/1"]
    date: Day
    round: str
    stops: list[Stop]


class Cup(Part):
    """Dry feed weighed ahead for one morning."""

    feed: str
    day: Day
    mass_mg: Amount
    water_ml: Amount


class Vessel(Part):
    """What doses are drawn up in."""

    ml: Amount
    mark_ml: Amount
    """how far apart its marks are"""
    syringe: bool
    """else a graduated cup"""


class Dose(Part):
    """What one tank gets of a bottle."""

    tank: str
    vessel: Vessel
    ml: Amount
    times: Count
    mg: Amount
    error: Amount | None
    """the relative error; null where the feed is measured by the spoon"""
    exact: bool
    """whether the error keeps its limit"""


class Bottle(Part):
    """One fine feed mixed for the round."""

    feed: str
    mass_mg: Amount
    water_ml: Amount
    mg_per_ml: Amount
    weighed_on: Day
    made_on: Day
    keeps_hours: Amount | None
    """null: for the same day only"""
    doses: list[Dose]


class Step(Part):
    """One thing to do before the round."""

    stage: Stage
    code: str
    feed: str | None
    text: str
    """the same in English"""


class Prepare(Part):
    """`rackround prepare --json`: what to weigh and mix, and the list in the order it is done."""

    format: Literal["rackround-prepare/1"]
    date: Day
    round: str
    minutes: Amount
    weighings: list[Cup]
    bottles: list[Bottle]
    prepare: list[Step]
    order_now: list[str]
    """what runs out before a delivery ordered today would come, in English"""


class LookAt(Part):
    """A tank to look at."""

    at: str
    """date, time and offset, RFC 3339 to the minute"""
    tank: str
    feed: str
    look: Look
    text: str
    """the same in English"""
    passed: bool
    """whether the time has passed"""


class LookBack(Part):
    """`rackround lookback --json`: by time."""

    format: Literal["rackround-lookback/1"]
    date: Day
    look: list[LookAt]
