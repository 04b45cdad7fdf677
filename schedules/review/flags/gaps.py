"""Too soon: servings closer together than the gap of their feed or of their rotation group."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from schedules.formatting import date_text, days_word
from schedules.review.flags.look import Look, Serving
from schedules.review.flags.types import Flag
from schedules.room import Tank


def under_gap(look: Look) -> Iterator[Flag]:
    """Servings of one feed fewer days apart than its minimum gap. Two in one round are a doubling, not a gap."""
    for tank in look.tanks():
        for feed, rules in look.known(tank):
            served = look.served(tank, feed)
            before = look.history.last_before.get((tank.id, feed.id))
            if served and before is not None and look.within(served[0][0].day):
                yield from _too_soon(look, tank, before, f"that of {date_text(before)}", served[0], rules.min_gap)
            for earlier, later in pairwise(served):
                same_round = earlier[0].day == later[0].day and earlier[1].round == later[1].round
                if look.within(later[0].day) and not same_round:
                    yield from _too_soon(
                        look, tank, earlier[0].day, f"that of {look.when(earlier[0])}", later, rules.min_gap
                    )


def _too_soon(look: Look, tank: Tank, before: date, which: str, later: Serving, gap: int) -> Iterator[Flag]:
    entry, what = later
    apart = (entry.day - before).days
    if apart < gap:
        name = look.feed_name(what.feed)
        yield Flag(
            "under_gap",
            "medium",
            tank.id,
            what.feed,
            entry.day,
            f"{name} given {look.when(entry)}, {_after(apart)} {which}; its gap is {days_word(gap)}",
            f"Let the next serving of {name} go if any is still lying there.",
            gap - apart,
        )


def under_group_gap(look: Look) -> Iterator[Flag]:
    """Servings of different feeds of one rotation group fewer days apart than the group's gap.

    Two servings of the same feed are flagged here only where the feed's own gap lets them pass.
    """
    groups: dict[str, list[str]] = {}
    for feed in look.room.feeds.values():
        if feed.group is not None:
            groups.setdefault(feed.group, []).append(feed.id)
    for tank in look.tanks():
        for group, members in groups.items():
            yield from _group_flags(look, tank, group, members)


def _group_flags(look: Look, tank: Tank, group: str, members: list[str]) -> Iterator[Flag]:
    gap = look.room.group_gaps.get(group, 0)
    served = sorted(
        (found for feed in members for found in look.served(tank, look.room.feeds[feed])),
        key=lambda found: (found[0].day, found[0].seq),
    )
    for earlier, later in pairwise(served):
        apart = (later[0].day - earlier[0].day).days
        feed = look.room.feeds[later[1].feed]
        own = earlier[1].feed == later[1].feed and apart < max(1, look.rules(tank, feed).min_gap)
        if apart < gap and look.within(later[0].day) and not own:
            yield Flag(
                "under_group_gap",
                "medium",
                tank.id,
                feed.id,
                later[0].day,
                f"{feed.name} given {look.when(later[0])}, {_after(apart)} {look.feed_name(earlier[1].feed)} "
                f"({look.when(earlier[0])}); the gap of the {group} is {days_word(gap)}",
                f"Give no other of the {group} for {days_word(gap)}.",
                gap - apart,
            )


def _after(days: int) -> str:
    return "the same day as" if days == 0 else f"{days_word(days)} after"
