"""The extra fine feed after a hatch that is news today: what is posted for today stays as it is."""

from __future__ import annotations

from datetime import date

from schedules.history import History
from schedules.ledger.entries import Served, Sighting
from schedules.room import Room
from schedules.round.marks import give


def fine_after_hatch(room: Room, history: History, day: date, tank: str) -> Served | None:
    """A usual serving of a fine feed where a hatch was seen on the day and no fine feed is due or given.

    The first of the stock that the tank takes and no rule forbids; None where there is none.
    """
    hatched = any(isinstance(entry.what, Sighting) and entry.what.saw == "hatch" for entry in history.about(tank, day))
    here = [feed for feed in room.feeds.values() if feed.fine and feed.id in room.tanks[tank].feeds]
    known = {each.feed for each in history.due_in(tank, day)} | {what.feed for _, what in history.served_on(tank, day)}
    if not hatched or any(feed.id in known for feed in here):
        return None
    made = (give(room, history, day, tank, feed.id) for feed in here)
    return next((each for each in made if isinstance(each, Served)), None)
