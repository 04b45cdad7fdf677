"""How much of a feed's usual serving a tank has shown that it takes: a bounded controller over the ledger.

The level is a part (0 to 1) of the serving that the ration allows. A feed new to a tank starts at half. Each serving
reported clean adds a step, leftovers multiply the level down, and the amount that left something is remembered as a
ceiling that is approached in small steps only. A serving of which nobody said anything adds half a step, as silence is
weak evidence; it never comes near the ceiling, and goes no higher than `SILENT_TOP` where a look would tell (what is
premixed leaves nothing to see). A feed given for longer than the history looks back starts at the
lower of its first two servings within it. All numbers here are common practice, no source.

Each rule below is monotone in the state (a lower level and ceiling stay lower), and worse leftovers lead to a lower
state; so more leftovers can never raise a later amount.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from schedules.history import History
from schedules.ledger.entries import Entry, Leftovers, Observed, Served
from schedules.room import FeedRules, Tank

START: Final = 0.5
STEP_UP: Final = 0.1
SILENT_STEP: Final = 0.05
SILENT_TOP: Final = 0.75
SMALL_STEP: Final = 0.02
NEAR: Final = 0.9
"""The part of the ceiling up to which growth takes whole steps."""
SOME_LEFT: Final = 0.85
MOST_LEFT: Final = 0.5
LOWEST: Final = 0.1
WORST_FIRST: Final[tuple[Leftovers, ...]] = ("most", "some", "none")


@dataclass(frozen=True, slots=True)
class Level:
    """The part of a usual serving to give, the amount that last left something (None for never), and why, in words."""

    value: float
    ceiling: float | None
    why: str


@dataclass(frozen=True, slots=True)
class _State:
    level: float
    ceiling: float


def level_of(history: History, tank: Tank, feed: str, rules: FeedRules, day: date) -> Level:
    """The level at which a feed stands in a tank before a day's serving, from what the ledger says before that day."""
    past = [(entry, what) for entry, what in history.servings(tank.id, feed) if entry.day < day and what.part > 0]
    if not past or rules.share <= 0:
        return Level(START, None, "new to this tank: half")
    known = history.first_ever.get((tank.id, feed), history.first) < history.first
    judged = _by_day(reported(history, tank.id, feed, past, day))
    begun = min(share / rules.share for share, _ in judged[:2]) if known else START
    state = _State(min(1.0, max(LOWEST, begun)), float("inf"))
    silent_top = 1.0 if rules.method in ("premixed", "flow") else SILENT_TOP
    for share, report in judged:
        state = after(state, share / rules.share, report, silent_top)
    ceiling = None if state.ceiling == float("inf") else state.ceiling
    return Level(state.level, ceiling, _why(state.level, len(judged), judged[-1][1]))


def _by_day(
    judged: Iterable[tuple[tuple[Entry, Served], Leftovers | None]],
) -> list[tuple[float, Leftovers | None]]:
    """The share given on each day and the worst that was reported of it: what lies there came from all of it."""
    days: dict[date, tuple[float, Leftovers | None]] = {}
    for (entry, what), report in judged:
        share, before = days.get(entry.day, (0.0, None))
        days[entry.day] = (share + what.part, _worst([said for said in (before, report) if said is not None]))
    return list(days.values())


def reported(
    history: History, tank: str, feed: str, past: list[tuple[Entry, Served]], day: date
) -> Iterator[tuple[tuple[Entry, Served], Leftovers | None]]:
    """Each serving with the worst that was reported of it before the next one, None where nothing was."""
    since = past[0][0].day
    watched = [
        (entry.day, entry.seq, entry.what.leftovers)
        for number in range((day - since).days + 1)
        for entry in history.about(tank, since + timedelta(days=number))
        if isinstance(entry.what, Observed) and entry.what.feed == feed
    ]
    for number, serving in enumerate(past):
        begin = (serving[0].day, serving[0].seq)
        end = (past[number + 1][0].day, past[number + 1][0].seq) if number + 1 < len(past) else (date.max, 0)
        said = [leftovers for seen, seq, leftovers in watched if begin < (seen, seq) < end]
        yield serving, _worst(said)


def _worst(said: list[Leftovers]) -> Leftovers | None:
    return next((each for each in WORST_FIRST if each in said), None)


def after(state: _State, given: float, report: Leftovers | None, silent_top: float = SILENT_TOP) -> _State:
    """The state after a day of `given` usual servings of which `report` was said (None: nobody said anything).

    What is left of more than was planned says little of the plan: then the cut is the small one.
    Less than half of what the level asked for is no ground to grow on; a measurable amount is never less than that.
    """
    if report == "most" or report == "some":
        cut = MOST_LEFT if report == "most" else SOME_LEFT
        lower = max(LOWEST, min(SOME_LEFT * state.level, cut * given))
        return _State(min(state.level, lower), min(state.ceiling, max(given, LOWEST)))
    ground = min(state.level, 2 * given)
    if report is None:
        return _State(max(state.level, min(ground + SILENT_STEP, NEAR * state.ceiling, silent_top)), state.ceiling)
    whole = min(ground + STEP_UP, NEAR * state.ceiling)
    level = max(state.level, min(1.0, max(ground + SMALL_STEP, whole)))
    return _State(level, max(state.ceiling, level))


def _why(level: float, servings: int, report: Leftovers | None) -> str:
    if report == "most" or report == "some":
        return f"{report} was left of the last one: cut to {level:.0%} of a usual serving"
    if level >= 1:
        return "a usual serving"
    return f"{level:.0%} of a usual serving after {servings} servings"
