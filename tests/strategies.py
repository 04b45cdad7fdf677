"""Random rooms and random pasts, for the properties that must hold whatever a keeper writes down."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from schedules.room import Feed, FeedRules, Keeper, Presence, Room, Tank
from schedules.room.kinds import KINDS, STAGES
from tests.amounts.rooms import TODAY, Past, make_feed, make_room, make_tank

shares = st.sampled_from((0.1, 0.2, 0.25, 0.3, 1 / 3, 0.4, 0.5, 0.6, 0.7, 1.0))


@st.composite
def feeds(draw: st.DrawFn, feed_id: str) -> Feed:
    min_gap = draw(st.integers(0, 5))
    changes: dict[str, Any] = {
        "min_gap": min_gap,
        "max_gap": draw(st.integers(max(1, min_gap), 12)),
        "per_week": draw(st.sampled_from((0, 0.5, 1, 2, 2.5, 3, 7))),
        "share": draw(shares),
        "even_on_days_off": draw(st.booleans()),
    }
    return make_feed(feed_id, draw(st.sampled_from(KINDS)), **changes)


@st.composite
def presences(draw: st.DrawFn) -> Presence:
    first, last = sorted(draw(st.tuples(st.integers(-30, 40), st.integers(-30, 40))))
    return Presence(
        draw(st.sampled_from(STAGES)),
        draw(st.integers(0, 300)),
        first=draw(st.sampled_from((None, TODAY + timedelta(days=first)))),
        last=draw(st.sampled_from((None, TODAY + timedelta(days=last)))),
    )


@st.composite
def tanks(draw: st.DrawFn, tank_id: str, stock: list[Feed]) -> Tank:
    taken = draw(st.lists(st.sampled_from(stock), unique_by=lambda feed: feed.id, max_size=len(stock)))
    rules: dict[str, FeedRules] = {
        feed.id: replace(feed.rules, share=draw(shares)) if draw(st.booleans()) else feed.rules for feed in taken
    }
    tank = make_tank(
        tank_id,
        stock,
        animals=tuple(draw(st.lists(presences(), max_size=4))),
        rest_weekday=draw(st.sampled_from((None, 0, 3, 6))),
        litres=draw(st.floats(5, 400)),
    )
    return replace(tank, feeds=rules)


@st.composite
def rooms(draw: st.DrawFn, most_tanks: int = 3) -> Room:
    """A room of a few tanks that take some of the feeds in stock, with a day off now and then."""
    stock = [draw(feeds(f"f{number}")) for number in range(draw(st.integers(1, 6)))]
    made = [draw(tanks(f"t{number}", stock)) for number in range(draw(st.integers(1, most_tanks)))]
    groups = {feed.group for feed in stock if feed.group}
    room = make_room(stock, *made, group_gaps={group: draw(st.integers(0, 4)) for group in sorted(groups)})
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
