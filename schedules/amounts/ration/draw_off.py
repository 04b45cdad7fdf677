"""Drawing the adults off before a powder: which solid goes in first, and how many pieces of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from math import ceil

from schedules.ledger.entries import PostedServing
from schedules.room import Room
from schedules.room.kinds import ACCOMPANIED


@dataclass(frozen=True, slots=True)
class DrawOff:
    """What draws the adults of a tank from the shrimplets' powder on a day.

    `feed` goes in first, at one spot away from where the powder goes; None where nothing that draws is due, so that
    the adults will share the powder. `pieces` is how many there should be for that many adults at the least.
    """

    feed: str | None
    adults: int
    pieces: int


def draw_off(room: Room, tank_id: str, due: Iterable[PostedServing], day: date) -> DrawOff | None:
    """How the adults of a tank are drawn off, given what is due there on a day.

    None where no powder is due or where shrimplets and adults do not share the tank.
    """
    tank = room.tanks[tank_id]
    adults = tank.count("adult", day)
    feeds = [room.feeds[each.feed] for each in due if each.feed in room.feeds and each.amount_mg > 0]
    if adults == 0 or tank.count("shrimplet", day) == 0 or not any(feed.kind in ACCOMPANIED for feed in feeds):
        return None
    drawing = next((feed.id for feed in feeds if feed.draws), None)
    return DrawOff(drawing, adults, ceil(adults / room.tools.adults_per_piece))
