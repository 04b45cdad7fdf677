"""Too little: shrimplets beyond their maximum gap, tanks that got nothing for days."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from schedules.amounts.ration.serving import planning_rules
from schedules.formatting import date_text, days_word
from schedules.problem.build import ledger_begin
from schedules.problem.wanted import run_start, wanted_spans
from schedules.review.flags.look import Look
from schedules.review.flags.types import Flag
from schedules.room import Feed, Tank
from schedules.room.kinds import STAGES

NOTHING_DAYS: Final = 4
"""A tank that got nothing for this long is flagged. Common practice, no source; animals live through longer fasts."""


def shrimplets_waiting(look: Look) -> Iterator[Flag]:
    """Feeds for shrimplets that a tank with shrimplets has been without for longer than their maximum gap.

    Shrimplets live on fine feeds; a mineral feed that is late is the least of flags.
    """
    begun = ledger_begin(look.history)
    if begun is None:
        return
    for tank in look.tanks():
        if tank.count("shrimplet", look.today) == 0:
            continue
        for feed in (look.room.feeds[feed] for feed in tank.feeds):
            if "shrimplet" not in feed.stages:
                continue
            rules = planning_rules(tank, feed, tank.feeds[feed.id], look.today, room=look.room, history=look.history)
            since, last = _without_since(look, tank, feed, begun)
            days = (look.today - since).days
            if days > rules.max_gap:
                yield Flag(
                    "shrimplets_waiting",
                    "high" if feed.fine else "low",
                    tank.id,
                    feed.id,
                    look.today,
                    f"{tank.count('shrimplet', look.today)} shrimplets without {feed.name} for {days_word(days)}, "
                    f"at most {days_word(rules.max_gap)}; {_last_text(last)}",
                    f"Give {feed.name} in the next round, the usual amount and no more.",
                    days,
                )


def _last_text(last: date | None) -> str:
    return "never given" if last is None else f"last given {date_text(last)}"


def _without_since(look: Look, tank: Tank, feed: Feed, begun: date) -> tuple[date, date | None]:
    """The day from which a tank has been waiting for a feed, and the day it last got it (None for never)."""
    last = look.history.last_day(tank.id, feed.id, look.today + timedelta(days=1))
    start = run_start(wanted_spans(tank.animals, feed.stages), look.today) or look.today
    eve = max(start, begun) - timedelta(days=1)
    return (eve if last is None else max(last, eve)), last


def nothing_given(look: Look) -> Iterator[Flag]:
    """Tanks with animals that got no feed at all for days."""
    begun = ledger_begin(look.history)
    if begun is None:
        return
    for tank in look.tanks():
        spans = wanted_spans(tank.animals, frozenset(STAGES))
        start = run_start(spans, look.today)
        if start is None or not tank.feeds:
            continue
        given = [
            day
            for feed in look.room.feeds
            if (day := look.history.last_day(tank.id, feed, look.today + timedelta(days=1))) is not None
        ]
        last = max(given, default=None)
        eve = max(start, begun) - timedelta(days=1)
        days = (look.today - (eve if last is None else max(last, eve))).days
        if days > NOTHING_DAYS:
            yield Flag(
                "nothing_given",
                "medium",
                tank.id,
                None,
                look.today,
                f"nothing given for {days_word(days)}; last {'never' if last is None else date_text(last)}",
                "Feed it in the next round as planned, or note why it fasts.",
                days,
            )
