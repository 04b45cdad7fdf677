"""The room as values: tanks, feeds, keepers, rounds, and the trade's kinds, units and calendar.

`model.py` holds the values; read it first. Nothing here reads a file or the clock.
"""

from schedules.room.model import (
    Appetite,
    Feed,
    FeedRules,
    Keeper,
    Measure,
    Presence,
    Rack,
    Room,
    RoundTime,
    Tank,
    Tools,
    Units,
    Vessel,
    Water,
)

__all__ = [
    "Appetite",
    "Feed",
    "FeedRules",
    "Keeper",
    "Measure",
    "Presence",
    "Rack",
    "Room",
    "RoundTime",
    "Tank",
    "Tools",
    "Units",
    "Vessel",
    "Water",
]
