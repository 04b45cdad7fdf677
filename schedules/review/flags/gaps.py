"""Too soon: servings closer together than the gap of their feed or of the clock they answer."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from schedules.ledger.entries import Entry
from schedules.review.flags.context import Context, Serving
from schedules.review.flags.evidence import Advice, TooSoon
from schedules.review.flags.types import Flag
from schedules.room import Feed, Tank
from schedules.room.needs import TankClock, clocks_of


def under_gap(context: Context) -> Iterator[Flag]:
    """Servings of one feed fewer days apart than its minimum gap. Two in one round are a doubling, not a gap."""
    for tank in context.tanks():
        for feed, rules in context.known(tank):
            served = context.served(tank, feed)
            before = context.history.last_before.get((tank.id, feed.id))
            if served and before is not None and context.within(served[0][0].day):
                yield from _too_soon(tank, feed, before, None, served[0], rules.min_gap)
            for earlier, later in pairwise(served):
                same_round = earlier[0].day == later[0].day and earlier[1].round == later[1].round
                if context.within(later[0].day) and not same_round:
                    yield from _too_soon(tank, feed, earlier[0].day, earlier[0], later, rules.min_gap)


def _too_soon(tank: Tank, feed: Feed, before: date, earlier: Entry | None, later: Serving, gap: int) -> Iterator[Flag]:
    entry, _ = later
    apart = (entry.day - before).days
    if apart < gap:
        evidence = TooSoon(entry, earlier, before, apart, gap)
        advice: Advice = "let_next_go_if_hazy" if feed.fine else "let_next_go"
        yield Flag("under_gap", "medium", tank.id, feed.id, entry.day, evidence, advice, gap - apart)


def under_clock_gap(context: Context) -> Iterator[Flag]:
    """Servings of different feeds of one clock fewer days apart than its shortest gap.

    Two servings of the same feed are flagged here only where the feed's own gap lets them pass.
    """
    for tank in context.tanks():
        for clock in clocks_of(context.room, tank).values():
            if clock.rules.min_gap > 0:
                yield from _clock_flags(context, tank, clock)


def _clock_flags(context: Context, tank: Tank, clock: TankClock) -> Iterator[Flag]:
    gap = clock.rules.min_gap
    served = sorted(
        (found for feed in clock.feeds for found in context.served(tank, context.room.feeds[feed])),
        key=lambda found: (found[0].day, found[0].seq),
    )
    for earlier, later in pairwise(served):
        apart = (later[0].day - earlier[0].day).days
        feed = context.room.feeds[later[1].feed]
        own = earlier[1].feed == later[1].feed and apart < max(1, context.rules(tank, feed).min_gap)
        if apart < gap and context.within(later[0].day) and clock.wanted_on(later[0].day) and not own:
            evidence = TooSoon(later[0], earlier[0], earlier[0].day, apart, gap)
            yield Flag("under_clock_gap", "medium", tank.id, feed.id, later[0].day, evidence, "pause_sort", gap - apart)
