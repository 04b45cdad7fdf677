"""Random rooms and random pasts, for the properties that must hold whatever a keeper writes down."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from schedules.room import ClockRules, Feed, FeedRules, Keeper, Presence, Room, Tank
from schedules.room.clocks import DEFAULT_CLOCKS
from schedules.room.kinds import DRAWING, KINDS, STAGES, is_fine
from tests.amounts.rooms import TODAY, Past, make_feed, make_room, make_tank

shares = st.sampled_from((0.1, 0.2, 0.25, 0.3, 1 / 3, 0.4, 0.5, 0.6, 0.7, 1.0))


@st.composite
def feeds(draw: st.DrawFn, feed_id: str) -> Feed:
    kind = draw(st.sampled_from(KINDS))
    extra = not is_fine(kind) and draw(st.integers(0, 4)) == 0
    min_gap, least = draw(st.integers(1, 5)), draw(shares)
    changes: dict[str, Any] = {
        "min_gap": min_gap,
        "max_gap": draw(st.none() | st.integers(min_gap, 12)),
        "per_week": draw(st.sampled_from((None, None, 0.5, 1, 2.5, 7 / min_gap))),
        "share": 0.0 if extra else least,
        "most": 0.0 if extra else max(least, draw(shares)),
        "even_on_days_off": draw(st.booleans()),
        "draws": not extra and kind in DRAWING and draw(st.booleans()),
        "extra": extra,
    }
    return make_feed(feed_id, kind, **changes)


@st.composite
def presences(draw: st.DrawFn) -> Presence:
    first, last = sorted(draw(st.tuples(st.integers(-30, 40), st.integers(-30, 40))))
    hatched = TODAY + timedelta(days=first - draw(st.integers(0, 20)))
    return Presence(
        draw(st.sampled_from(STAGES)),
        draw(st.integers(0, 300)),
        hatched=draw(st.sampled_from((None, None, hatched))),
        first=draw(st.sampled_from((None, TODAY + timedelta(days=first)))),
        last=draw(st.sampled_from((None, TODAY + timedelta(days=last)))),
    )


def with_share(rules: FeedRules, share: float) -> FeedRules:
    return replace(rules, share=share, most=max(share, rules.most))


@st.composite
def clocks(draw: st.DrawFn) -> dict[str, ClockRules]:
    """A few clocks that differ from the usual ones, each with a shortest gap that leaves room for the rest."""
    changed: dict[str, ClockRules] = {}
    for name in draw(st.sets(st.sampled_from(sorted(DEFAULT_CLOCKS)), max_size=3)):
        max_gap = draw(st.none() | st.integers(2, 12))
        changed[name] = replace(
            DEFAULT_CLOCKS[name],
            min_gap=draw(st.integers(0, max_gap or 4)),
            max_gap=max_gap,
            overdue=None if max_gap is None else 50.0,
            per_week=draw(st.sampled_from((None, 0.5, 1, 3, 7))),
            rotate=draw(st.booleans()),
            min_gap_falls=draw(st.booleans()),
        )
    return changed


@st.composite
def tanks(draw: st.DrawFn, tank_id: str, stock: list[Feed]) -> Tank:
    taken = draw(st.lists(st.sampled_from(stock), unique_by=lambda feed: feed.id, max_size=len(stock)))
    rules: dict[str, FeedRules] = {
        feed.id: feed.rules if feed.extra or draw(st.booleans()) else with_share(feed.rules, draw(shares))
        for feed in taken
    }
    tank = make_tank(
        tank_id,
        stock,
        animals=tuple(draw(st.lists(presences(), max_size=4))),
        rest_weekday=draw(st.sampled_from((None, 0, 3, 6))),
        litres=draw(st.floats(5, 400)),
        grazing=draw(st.sampled_from(("poor", "fair", "rich"))),
        clocks=draw(clocks()),
    )
    return replace(tank, feeds=rules)


@st.composite
def rooms(draw: st.DrawFn, most_tanks: int = 3) -> Room:
    """A room of a few tanks that take some of the feeds in stock, with a day off now and then."""
    stock = [draw(feeds(f"f{number}")) for number in range(draw(st.integers(1, 6)))]
    made = [draw(tanks(f"t{number}", stock)) for number in range(draw(st.integers(1, most_tanks)))]
    room = replace(make_room(stock, *made), clocks=DEFAULT_CLOCKS | draw(clocks()))
    off = frozenset(TODAY + timedelta(days=day) for day in draw(st.sets(st.integers(0, 40), max_size=8)))
    return replace(room, keepers=(Keeper("Mara", frozenset(draw(st.sets(st.integers(0, 6), max_size=2))), off),))


@st.composite
def pasts(draw: st.DrawFn, room: Room, until: date = TODAY) -> Past:
    """What was given in the weeks before: planned or not, doubled, long ago, of feeds a tank no longer takes."""
    past = Past()
    for _ in range(draw(st.integers(0, 12))):
        tank = draw(st.sampled_from(sorted(room.tanks)))
        feed = draw(st.sampled_from(sorted(room.feeds)))
        day = until - timedelta(days=draw(st.integers(1, 80)))
        past.gave(tank, room.feeds[feed], day, draw(shares))
    past.entries.sort(key=lambda entry: entry.day)
    return past
