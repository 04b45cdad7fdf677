"""Nobody came: at several tanks of a rack in one round that is about the water, and not about appetite."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from schedules.ledger.entries import Came, Entry
from schedules.review.flags.context import Context
from schedules.review.flags.evidence import Absent
from schedules.review.flags.types import Flag
from schedules.room import Room, Tank

SILENT: Final = 2
"""So many feeds to which nobody came in one rack and round. Common practice, no source."""


def nobody_came(context: Context) -> Iterator[Flag]:
    """Racks in which nobody came to two feeds or more in one round; flagged at the tank where it was last so."""
    for tank in context.tanks():
        for day in context.days:
            for round_id, entries in _absent(context, tank, day).items():
                newest = max(entries, key=lambda entry: entry.seq)
                if len(entries) >= SILENT and isinstance(newest.what, Came) and newest.what.tank == tank.id:
                    evidence = Absent(tuple(entries), tank.rack, round_id)
                    yield Flag("nobody_came", "high", tank.id, None, day, evidence, "look_at_water", len(entries))


def _absent(context: Context, tank: Tank, day: date) -> dict[str, list[Entry]]:
    """By round, the last word about each feed of a rack on a day where that was that nobody came."""
    if not any(isinstance(entry.what, Came) for entry in context.history.about(tank.id, day)):
        return {}
    last: dict[tuple[str, str], Entry] = {}
    for other in rack_mates(context.room, tank.id):
        for entry in context.history.about(other, day):
            if isinstance(entry.what, Came):
                last[other, entry.what.feed] = entry
    found: dict[str, list[Entry]] = {}
    for (other, feed), entry in last.items():
        if isinstance(entry.what, Came) and entry.what.came == "nobody":
            found.setdefault(_round(context, other, feed, day), []).append(entry)
    return found


def _round(context: Context, tank: str, feed: str, day: date) -> str:
    """The round in which a tank was last given a feed on a day, else the one it belongs to."""
    given = [what.round for _, what in context.history.served_on(tank, day) if what.feed == feed]
    stock = context.room.feeds.get(feed)
    return given[-1] if given else "" if stock is None else stock.round


def rack_mates(room: Room, tank: str) -> tuple[str, ...]:
    """The tanks of a tank's rack, itself among them; only itself where it left the room file."""
    here = room.tanks.get(tank)
    return (tank,) if here is None else tuple(each.id for each in room.tanks.values() if each.rack == here.rack)
