"""How much of its serving a tank has shown that it takes of a feed: a bounded controller over the ledger.

The level is a part (0 to 1) of what the ration and the plan ask for. A feed that the animals know starts at 1; a new
feed, and any feed in a new tank, at half. Each serving reported clean adds a step, leftovers multiply the level down,
and the amount that left something is remembered as a ceiling that is approached in small steps only. A serving of which
nobody said anything adds half a step, as silence is weak evidence; it never comes near the ceiling, and goes no higher
than `SILENT_TOP`. After a premixed feed there is nothing to see, so that silence says nothing and adds nothing.

How the animals came to it says the same earlier: fast is a step up, though never beyond the ceiling, slowly is no
growth, nobody a step down unless all of it was gone later. Leftovers say more than that and go first. A feed given for
longer than the history looks back starts at the lower of its first two servings within it. All numbers here are common
practice, no source.

Each rule below is monotone in the state (a lower level and ceiling stay lower), and worse leftovers or a worse response
lead to a lower state; so more leftovers, or fewer that came, can never raise a later amount.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final, TypeVar

from schedules.history import History
from schedules.ledger.entries import Came, Entry, Leftovers, Observed, Reason, Response, Served
from schedules.room import Feed, Tank

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
NEW_TANK_AFTER: Final = timedelta(days=14)
"""A tank first fed so long after the ledger began was set up later: it is new for as long again."""
WORST_FIRST: Final[tuple[Leftovers, ...]] = ("most", "some", "none")
LEAST_FIRST: Final[tuple[Response, ...]] = ("nobody", "slowly", "fast")
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Level:
    """The part of a serving to give, the part that last left something (None for never), and why."""

    value: float
    ceiling: float | None
    why: Reason


@dataclass(frozen=True, slots=True)
class _State:
    level: float
    ceiling: float


@dataclass(frozen=True, slots=True)
class _Day:
    """What a tank got of a feed on a day: its part of the ration, and the worst that was said of it.

    `times` is how many times what was posted it was, None where nothing was posted.
    """

    part: float
    times: float | None
    report: Leftovers | None
    came: Response | None


@dataclass(frozen=True, slots=True)
class Said:
    """The worst that was said of a serving before the next one: of what was left, and of who came."""

    report: Leftovers | None
    came: Response | None


def level_of(history: History, tank: Tank, feed: Feed, day: date) -> Level:
    """The level at which a feed stands in a tank before a day's serving, from what the ledger says before that day."""
    rules = tank.feeds.get(feed.id, feed.rules)
    past = [(entry, what) for entry, what in history.servings(tank.id, feed.id) if entry.day < day and what.part > 0]
    if not past or rules.share <= 0:
        return _first_level(history, tank, feed, day)
    days = _by_day(history, tank.id, feed.id, said_of(history, tank.id, feed.id, past, day))
    if history.first_ever.get((tank.id, feed.id), history.first) < history.first:
        begun = min(each.part / rules.share for each in days[:2])
    else:
        begun = _first_level(history, tank, feed, past[0][0].day).value
    state = _State(min(1.0, max(LOWEST, begun)), float("inf"))
    silent_top = 0.0 if rules.method in ("premixed", "flow") else SILENT_TOP
    for each in days:
        given = each.part / rules.share if each.times is None else each.times * state.level
        state = answered(after(state, given, each.report, silent_top), state, given, each.report, each.came)
    ceiling = None if state.ceiling == float("inf") else state.ceiling
    return Level(state.level, ceiling, _why(state.level, len(days), days[-1]))


def _first_level(history: History, tank: Tank, feed: Feed, day: date) -> Level:
    """Where a feed starts that a tank never had before a day."""
    if not feed.known:
        return Level(START, None, Reason.of("new_feed", level=START))
    if _is_new(history, tank.id, day):
        return Level(START, None, Reason.of("new_tank", level=START))
    return Level(1.0, None, Reason("known_feed"))


def _is_new(history: History, tank: str, day: date) -> bool:
    """Whether a tank was new on a day: first fed some time after the ledger began, and not long before that day."""
    begun = min(history.first_ever.values(), default=day)
    first = min((first for (each, _), first in history.first_ever.items() if each == tank), default=day)
    return min(first, day) - begun >= NEW_TANK_AFTER and day - min(first, day) < NEW_TANK_AFTER


def _by_day(history: History, tank: str, feed: str, judged: Iterable[tuple[tuple[Entry, Served], Said]]) -> list[_Day]:
    """What was given on each day and the worst that was said of it: what lies there came from all of it."""
    days: dict[date, tuple[float, float, list[Said]]] = {}
    for (entry, what), said in judged:
        part, mg, before = days.get(entry.day, (0.0, 0.0, []))
        days[entry.day] = (part + what.part, mg + what.amount_mg, [*before, said])
    found = []
    for on, (part, mg, said_then) in days.items():
        posted = sum(due.amount_mg for due in history.due_in(tank, on) if due.feed == feed)
        report = _first(WORST_FIRST, (each.report for each in said_then))
        came = _first(LEAST_FIRST, (each.came for each in said_then))
        found.append(_Day(part, mg / posted if posted > 0 else None, report, came))
    return found


def said_of(
    history: History, tank: str, feed: str, past: list[tuple[Entry, Served]], day: date
) -> Iterator[tuple[tuple[Entry, Served], Said]]:
    """Each serving with the worst that was said of it before the next one."""
    since = past[0][0].day
    heard = [
        (entry.day, entry.seq, entry.what)
        for number in range((day - since).days + 1)
        for entry in history.about(tank, since + timedelta(days=number))
        if isinstance(entry.what, Observed | Came) and entry.what.feed == feed
    ]
    for number, serving in enumerate(past):
        begin = (serving[0].day, serving[0].seq)
        end = (past[number + 1][0].day, past[number + 1][0].seq) if number + 1 < len(past) else (date.max, 0)
        of_it = [what for on, seq, what in heard if begin < (on, seq) < end]
        report = _first(WORST_FIRST, (what.leftovers for what in of_it if isinstance(what, Observed)))
        came = _first(LEAST_FIRST, (what.came for what in of_it if isinstance(what, Came)))
        yield serving, Said(report, came)


def reported(
    history: History, tank: str, feed: str, past: list[tuple[Entry, Served]], day: date
) -> Iterator[tuple[tuple[Entry, Served], Leftovers | None]]:
    """Each serving with the worst that was reported of it before the next one, None where nothing was."""
    return ((serving, said.report) for serving, said in said_of(history, tank, feed, past, day))


def _first(order: tuple[T, ...], said: Iterable[T | None]) -> T | None:
    """The first of an order that was said, None for none."""
    words = set(said)
    return next((each for each in order if each in words), None)


def after(state: _State, given: float, report: Leftovers | None, silent_top: float = SILENT_TOP) -> _State:
    """The state after a day of `given` full servings of which `report` was said (None: nobody said anything).

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


def answered(made: _State, before: _State, given: float, report: Leftovers | None, came: Response | None) -> _State:
    """The state `made` after a day, once it is known how the animals came; `before` is the one before that day."""
    if came is None or report == "most" or report == "some":
        return made
    if came == "fast":
        grown = min(1.0, min(before.level, 2 * given) + STEP_UP, NEAR * before.ceiling)
        return _State(max(made.level, grown), made.ceiling)
    if came == "slowly" or report == "none":
        return _State(min(made.level, before.level), before.ceiling)
    return _State(max(LOWEST, before.level - STEP_UP), before.ceiling)


def _why(level: float, servings: int, last: _Day) -> Reason:
    if last.report == "most" or last.report == "some":
        return Reason.of("was_left", left=last.report, level=level)
    if last.came == "nobody" and last.report is None:
        return Reason.of("nobody_came", level=level)
    if level >= 1:
        return Reason("full")
    return Reason.of("after_servings", servings=servings, level=level)
