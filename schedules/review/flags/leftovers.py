"""What was found lying: leftovers reported, twice running, and amounts raised in spite of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from schedules.amounts.ration.level import reported
from schedules.ledger.entries import Entry, Leftovers, Observed
from schedules.review.flags.context import Context, Serving
from schedules.review.flags.evidence import Advice, Left, LeftTwice
from schedules.review.flags.types import Flag
from schedules.room import Feed, Tank
from schedules.room.kinds import Severity

RAISED: Final = 1.05
"""An amount counts as raised from this many times the one before. Common practice, no source."""


def leftovers(context: Context) -> Iterator[Flag]:
    """Leftovers reported, the worst report of each feed and day."""
    for tank in context.tanks():
        for day in context.days:
            worst: dict[str, tuple[Entry, Observed]] = {}
            times: Counter[str] = Counter()
            for entry in context.history.about(tank.id, day):
                what = entry.what
                if not isinstance(what, Observed) or what.leftovers == "none":
                    continue
                times[what.feed] += 1
                if what.feed not in worst or what.leftovers == "most":
                    worst[what.feed] = (entry, what)
            for entry, what in worst.values():
                yield _leftovers(context, entry, what, times[what.feed])


def _leftovers(context: Context, entry: Entry, what: Observed, times: int) -> Flag:
    most = what.leftovers == "most"
    severity: Severity = "medium" if most else "low"
    advice: Advice = "take_out_and_hold" if most else "take_out"
    feed = context.room.feeds.get(what.feed)
    if feed is not None and feed.fine:
        advice = "pause_fine_and_cut"
    return Flag("leftovers", severity, what.tank, what.feed, entry.day, Left(entry), advice, times)


def leftovers_twice(context: Context) -> Iterator[Flag]:
    """Feeds of which something was left of two servings running."""
    for tank, feed, (earlier, first), (later, second) in _judged_pairs(context):
        if first in ("some", "most") and second in ("some", "most"):
            yield Flag(
                "leftovers_twice",
                "high",
                tank.id,
                feed.id,
                later[0].day,
                LeftTwice(earlier[0], later[0], first, second, _times(earlier, later)),
                "leave_out_once",
                1 + (first, second).count("most"),
            )


def raised_after_leftovers(context: Context) -> Iterator[Flag]:
    """Servings larger than the one before although something of that was left."""
    for tank, feed, (earlier, first), (later, _) in _judged_pairs(context):
        if first in ("some", "most") and later[1].part > RAISED * earlier[1].part > 0:
            yield Flag(
                "raised_after_leftovers",
                "medium",
                tank.id,
                feed.id,
                later[0].day,
                LeftTwice(earlier[0], later[0], first, None, _times(earlier, later)),
                "give_as_planned_watch_haze" if feed.fine else "give_as_planned",
                later[1].part / earlier[1].part,
            )


def _times(earlier: Serving, later: Serving) -> float:
    """How many times as much of the ration the later serving took."""
    return later[1].part / earlier[1].part if earlier[1].part > 0 else 1.0


Judged = tuple[Serving, Leftovers | None]


def _judged_pairs(context: Context) -> Iterator[tuple[Tank, Feed, Judged, Judged]]:
    """Two servings of a feed to a tank running, the later one in the days looked at, with what was reported of each."""
    for tank in context.tanks():
        dirty = context.dirty(tank)
        for feed in context.room.feeds.values():
            if feed.id not in dirty:
                continue
            served = list(context.served(tank, feed))
            if len(served) < 2 or not context.within(served[-1][0].day):
                continue
            judged = list(reported(context.history, tank.id, feed.id, served, context.today))
            for earlier, later in pairwise(judged):
                if context.within(later[0][0].day):
                    yield tank, feed, earlier, later
