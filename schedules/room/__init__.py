"""The room as values: tanks, feeds, keepers, rounds, and the trade's kinds, units and calendar.

`model.py` holds the values; read it first. `clocks.py` says what a tank needs and how often. Nothing here reads a file
or the time of day.
"""

from schedules.room.clocks import Audience, ClockRules
from schedules.room.equipment import QuarantineRules, Tools, Vessel
from schedules.room.model import (
    Appetite,
    Feed,
    FeedRules,
    Keeper,
    Measure,
    Packs,
    Presence,
    Rack,
    Room,
    RoundTime,
    Tank,
    Water,
)
from schedules.room.units import Units

__all__ = [
    "Appetite",
    "Audience",
    "ClockRules",
    "Feed",
    "FeedRules",
    "Keeper",
    "Measure",
    "Packs",
    "Presence",
    "QuarantineRules",
    "Rack",
    "Room",
    "RoundTime",
    "Tank",
    "Tools",
    "Units",
    "Vessel",
    "Water",
]
