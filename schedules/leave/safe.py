"""Which feeds an inexperienced helper may give in a tank: nothing new, nothing that fouls, nothing difficult."""

from __future__ import annotations

from datetime import date
from typing import Final, Literal

from schedules.history import History
from schedules.room import Feed, Room, Tank
from schedules.room.kinds import Kind, Method, Table

KINDS: Final[dict[Table, frozenset[Kind]]] = {
    "fine": frozenset(("biofilm", "powder")),
    "ground": frozenset(("staple",)),
    "fan": frozenset(("suspension",)),
}
"""What a helper gives at each table: protein fouls, greens and minerals can wait. Common practice, no source."""
METHODS: Final[dict[Table, frozenset[Method]]] = {
    "fine": frozenset(("premixed", "surface", "placed")),
    "ground": frozenset(("placed", "surface")),
    "fan": frozenset(("premixed", "surface", "flow")),
}
"""Nothing goes into the flow but the feed of those who live on it."""
Unsafe = Literal["kind", "method", "extra", "never_given", "past_date"]


def unsafe(history: History, tank: Tank, feed: Feed, first: date, last: date) -> Unsafe | None:
    """What speaks against a helper giving a feed in a tank on the days `first` to `last`; None where nothing does.

    A feed is new where the tank was never given it by the ledger and the room file does not say that it is known.
    """
    if feed.kind not in KINDS[feed.table]:
        return "kind"
    if feed.extra:
        return "extra"
    if tank.feeds[feed.id].method not in METHODS[feed.table]:
        return "method"
    given = history.first_ever.get((tank.id, feed.id))
    if not feed.known and (given is None or given >= first):
        return "never_given"
    if feed.best_before is not None and feed.best_before < last:
        return "past_date"
    return None


def times_given(room: Room, history: History) -> dict[str, int]:
    """How often each feed was given in the whole room within the history: the helper takes few, well-known jars."""
    return {feed: sum(len(history.servings(tank, feed)) for tank in room.walk) for feed in room.feeds}
