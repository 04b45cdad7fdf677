"""Too little: needs beyond their longest gap, tanks that got nothing for days."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from schedules.amounts.ration import still_due
from schedules.formatting import date_text, days_word
from schedules.history.answers import last_answered
from schedules.planning.problem.build import ledger_begin
from schedules.review.flags.look import Look
from schedules.review.flags.types import Flag, FlagKind
from schedules.room import Tank
from schedules.room.kinds import STAGES, Severity
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
WANTED: Final[dict[FlagKind, str]] = {
    "no_fine_feed": "fine feed",
    "no_fan_feed": "suspension",
    "no_mineral": "minerals",
}


def need_waiting(look: Look) -> Iterator[Flag]:
    """Needs whose longest gap has run out: of fine feed, of the fans' feed, and of minerals where shrimplets grow.

    A mineral never given yet is no news, and one that is late is the least of flags.
    """
    begun = ledger_begin(look.history)
    if begun is None:
        return
    for tank in look.tanks():
        clocks = clocks_of(look.room, tank)
        for name, kind in WAITING.items():
            clock = clocks.get(name)
            found = None if clock is None else _waiting(look, tank, clock, begun)
            if clock is None or found is None:
                continue
            days, last = found
            if kind == "no_mineral" and (last is None or tank.count("shrimplet", look.today) == 0):
                continue
            names = " or ".join(look.feed_name(feed) for feed in clock.feeds)
            yield Flag(
                kind,
                _severity(look, tank, kind),
                tank.id,
                None,
                look.today,
                f"{_who(look, tank, clock)} without {WANTED[kind]} for {days_word(days)}, "
                f"at most {days_word(clock.rules.max_gap or 0)}; {_last_text(last)}",
                f"Give {names} in the next round, the usual amount.",
                days,
            )


def _waiting(look: Look, tank: Tank, clock: TankClock, begun: date) -> tuple[int, date | None] | None:
    """How many days a tank has waited for a need, and when it was last answered; None where that is soon enough.

    The last day of the longest gap counts once nothing that answers the need is due any more today.
    """
    start, longest = run_start(clock.spans, look.today), clock.rules.max_gap
    if start is None or longest is None:
        return None
    answered = last_answered(look.history, tank.id, clock.feeds, look.today + timedelta(days=1))
    last = None if answered is None else answered[0]
    eve = max(start, begun) - timedelta(days=1)
    days = (look.today - (eve if last is None else max(last, eve))).days
    due = {each.feed for each in still_due(look.history, tank.id, look.today)}
    return (days, last) if days > longest or (days == longest and not due & set(clock.feeds)) else None


def _severity(look: Look, tank: Tank, kind: FlagKind) -> Severity:
    if kind == "no_fan_feed" or (kind == "no_fine_feed" and tank.count("shrimplet", look.today) > 0):
        return "high"
    return "medium" if kind == "no_fine_feed" else "low"


def _who(look: Look, tank: Tank, clock: TankClock) -> str:
    """The animals that wait: shrimplets where there are any, else the others that have the need."""
    stages = clock.rules.audience.stages | clock.rules.audience.where_grazing_is_poor
    here = [stage for stage in STAGES if stage in stages and tank.count(stage, look.today) > 0]
    stage = here[0] if here else STAGES[0]
    return f"{tank.count(stage, look.today)} {stage.replace('_', ' ')}s"


def _last_text(last: date | None) -> str:
    return "never given" if last is None else f"last given {date_text(last)}"


def nothing_given(look: Look) -> Iterator[Flag]:
    """Tanks with animals that got no feed at all for days."""
    begun = ledger_begin(look.history)
    if begun is None:
        return
    for tank in look.tanks():
        spans = stage_spans(tank, frozenset(STAGES))
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
