"""What was found lying: leftovers reported, twice running, and amounts raised in spite of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from schedules.amounts.ration.level import reported
from schedules.formatting import number_text
from schedules.ledger.entries import Entry, Leftovers, Observed
from schedules.review.flags.look import Look, Serving, given_text
from schedules.review.flags.types import Flag
from schedules.room import Feed, Tank

RAISED: Final = 1.05
"""An amount counts as raised from this many times the one before. Common practice, no source."""


def leftovers(look: Look) -> Iterator[Flag]:
    """Leftovers reported, the worst report of each feed and day."""
    for tank in look.tanks():
        for day in look.days:
            worst: dict[str, tuple[Entry, Observed]] = {}
            times: Counter[str] = Counter()
            for entry in look.history.about(tank.id, day):
                what = entry.what
                if not isinstance(what, Observed) or what.leftovers == "none":
                    continue
                times[what.feed] += 1
                if what.feed not in worst or what.leftovers == "most":
                    worst[what.feed] = (entry, what)
            for entry, what in worst.values():
                yield _leftovers(look, entry, what, times[what.feed])


def _leftovers(look: Look, entry: Entry, what: Observed, times: int) -> Flag:
    name = look.feed_name(what.feed)
    most = what.leftovers == "most"
    return Flag(
        "leftovers",
        "medium" if most else "low",
        what.tank,
        what.feed,
        entry.day,
        f"{what.leftovers} of {name} was left ({look.when(entry)})",
        f"Take it out and let the next solid feed go; the next serving of {name} is cut."
        if most
        else f"Take it out; the next serving of {name} is cut.",
        times,
    )


def leftovers_twice(look: Look) -> Iterator[Flag]:
    """Feeds of which something was left of two servings running."""
    for tank, feed, (earlier, first), (later, second) in _judged_pairs(look):
        if first in ("some", "most") and second in ("some", "most"):
            yield Flag(
                "leftovers_twice",
                "high",
                tank.id,
                feed.id,
                later[0].day,
                f"{feed.name}: {first} left of {given_text(earlier[1])} ({look.when(earlier[0])}), "
                f"{second} left of {given_text(later[1])} ({look.when(later[0])})",
                f"Leave {feed.name} out once and look at the animals before giving it again.",
                1 + (first, second).count("most"),
            )


def raised_after_leftovers(look: Look) -> Iterator[Flag]:
    """Servings larger than the one before although something of that was left."""
    for tank, feed, (earlier, first), (later, _) in _judged_pairs(look):
        if first in ("some", "most") and later[1].part > RAISED * earlier[1].part > 0:
            yield Flag(
                "raised_after_leftovers",
                "medium",
                tank.id,
                feed.id,
                later[0].day,
                f"{feed.name}: {first} left of {given_text(earlier[1])} ({look.when(earlier[0])}), then "
                f"{given_text(later[1])} ({look.when(later[0])}), "
                f"{number_text(later[1].part / earlier[1].part)} times as much of the ration",
                f"Give {feed.name} as planned the next time, and look for leftovers today.",
                later[1].part / earlier[1].part,
            )


Judged = tuple[Serving, Leftovers | None]


def _judged_pairs(look: Look) -> Iterator[tuple[Tank, Feed, Judged, Judged]]:
    """Two servings of a feed to a tank running, the later one in the days looked at, with what was reported of each."""
    for tank in look.tanks():
        dirty = look.dirty(tank)
        for feed in look.room.feeds.values():
            if feed.id not in dirty:
                continue
            served = list(look.served(tank, feed))
            if len(served) < 2 or not look.within(served[-1][0].day):
                continue
            judged = list(reported(look.history, tank.id, feed.id, served, look.today))
            for earlier, later in pairwise(judged):
                if look.within(later[0][0].day):
                    yield tank, feed, earlier, later
