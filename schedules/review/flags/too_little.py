"""Too little: needs beyond their longest gap, tanks that got nothing for days."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from schedules.amounts.ration import still_due
from schedules.history.answers import days_left_out, last_answered, ledger_begin
from schedules.review.flags.context import Context
from schedules.review.flags.evidence import Waiting
from schedules.review.flags.types import Flag, FlagKind
from schedules.room import Tank
from schedules.room.kinds import STAGES, Severity, Stage
from schedules.room.needs import TankClock, clocks_of, stage_spans
from schedules.room.spans import run_start

NOTHING_DAYS: Final = 4
"""A tank that got nothing for this long is flagged. Common practice, no source; animals live through longer fasts."""

WAITING: Final[dict[str, FlagKind]] = {
    "first_fine": "no_fine_feed",
    "fine": "no_fine_feed",
    "fan": "no_fan_feed",
    "mineral": "no_mineral",
}
"""The clocks whose overdue days are flagged; what grown animals lack for some days shows in `nothing_given`."""


def need_waiting(context: Context) -> Iterator[Flag]:
    """Needs whose longest gap has run out: of fine feed, of the fans' feed, and of minerals where shrimplets grow.

    A mineral never given yet is no news, and one that is late is the least of flags.
    """
    begun = ledger_begin(context.history)
    if begun is None:
        return
    for tank in context.tanks():
        clocks = clocks_of(context.room, tank)
        for name, kind in WAITING.items():
            clock = clocks.get(name)
            found = None if clock is None else _longest_waiting(context, tank, clock, begun)
            if clock is None or found is None:
                continue
            stage, days, last = found
            if kind == "no_mineral" and (last is None or stage != "shrimplet"):
                continue
            longest, animals = clock.rules.max_gap or 0, tank.count(stage, context.today)
            evidence = Waiting(days, last, longest, stage, animals, clock.feeds)
            yield Flag(kind, _severity(kind, stage), tank.id, None, context.today, evidence, "give_next_round", days)


def _longest_waiting(
    context: Context, tank: Tank, clock: TankClock, begun: date
) -> tuple[Stage, int, date | None] | None:
    """The youngest animals of a tank that wait too long for a need, how many days, and when it was last answered.

    Animals wait from the day on which they are there: hatchlings of this morning have gone without nothing yet.
    """
    stages = clock.rules.audience.stages | clock.rules.audience.where_grazing_is_poor
    for stage in (each for each in STAGES if each in stages and tank.count(each, context.today) > 0):
        here = run_start(stage_spans(tank, frozenset((stage,))), context.today)
        found = _waiting(context, tank, clock, begun if here is None else max(begun, here))
        if found is not None:
            return (stage, *found)
    return None


def _waiting(context: Context, tank: Tank, clock: TankClock, begun: date) -> tuple[int, date | None] | None:
    """How many days a need has waited since `begun`, and when it was last answered; None where that is soon enough.

    The last day of the longest gap counts once nothing that answers the need is due any more today.
    """
    start, longest = run_start(clock.spans, context.today), clock.rules.max_gap
    if start is None or longest is None:
        return None
    answered = last_answered(context.history, tank.id, clock.feeds, context.today + timedelta(days=1))
    last = None if answered is None else answered[0]
    eve = max(start, begun) - timedelta(days=1)
    since = eve if last is None else max(last, eve)
    days = (context.today - since).days - days_left_out(context.history, tank.id, clock.feeds, since, context.today)
    due = {each.feed for each in still_due(context.history, tank.id, context.today)}
    return (days, last) if days > longest or (days == longest and not due & set(clock.feeds)) else None


def _severity(kind: FlagKind, stage: Stage) -> Severity:
    if kind == "no_fan_feed" or (kind == "no_fine_feed" and stage == "shrimplet"):
        return "high"
    return "medium" if kind == "no_fine_feed" else "low"


def nothing_given(context: Context) -> Iterator[Flag]:
    """Tanks with animals that got no feed at all for days."""
    begun = ledger_begin(context.history)
    if begun is None:
        return
    for tank in context.tanks():
        spans = stage_spans(tank, frozenset(STAGES))
        start = run_start(spans, context.today)
        if start is None or not tank.feeds:
            continue
        given = [
            day
            for feed in context.room.feeds
            if (day := context.history.last_day(tank.id, feed, context.today + timedelta(days=1))) is not None
        ]
        last = max(given, default=None)
        eve = max(start, begun) - timedelta(days=1)
        since = eve if last is None else max(last, eve)
        days = (context.today - since).days - days_left_out(
            context.history, tank.id, context.room.feeds, since, context.today
        )
        if days > NOTHING_DAYS:
            evidence = Waiting(days, last)
            yield Flag("nothing_given", "medium", tank.id, None, context.today, evidence, "feed_or_note", days)
