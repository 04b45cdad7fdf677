"""Why a feed is given on a day, and what keeps it away on another: derived from the rules, not told from memory."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from typing import Literal

from schedules.plan.cost import cost, longest_round
from schedules.plan.types import Cost
from schedules.problem.calendar import clock_starts, given_before, week_target, weeks
from schedules.problem.types import Problem, Slot, TankProblem
from schedules.room.kinds import ACCOMPANIED, is_fine
from schedules.rules import FULL_DAY, SHARE_TOLERANCE, WEIGHTS

HardRule = Literal["open", "min_gap", "group_gap", "shares"]
CostName = Literal["overdue", "unaccompanied", "weekly", "repeat", "longest_round", "churn"]
Names = Mapping[str, str]
"""Feeds' names by id; a feed that is not in it is called by its id."""


@dataclass(frozen=True, slots=True)
class Reason:
    """A rule or cost, and a sentence that says how it applies. `rule` is None where nothing keeps a feed away."""

    rule: HardRule | CostName | None
    text: str


def why_short(problem: Problem, slots: Iterable[Slot], slot: Slot, names: Names | None = None) -> str:
    """Why a serving is given on its day, in a few words for one line of a round sheet."""
    return "; ".join(reason.text for reason in why(problem, slots, slot, names)[:2])


def why(problem: Problem, slots: Iterable[Slot], slot: Slot, names: Names | None = None) -> tuple[Reason, ...]:
    """What speaks for a serving on its day: its clock, its week, the powders it goes with; the weightiest first."""
    tank, mine = problem.tanks[slot.tank], sorted(one for one in slots if one.tank == slot.tank)
    reasons = [
        _clock(problem, tank, mine, slot),
        _company(tank, mine, slot, names or {}),
        _week(problem, tank, mine, slot),
    ]
    found = [reason for reason in reasons if reason is not None]
    if problem.posted and slot in problem.posted:
        found.append(Reason("churn", "as posted"))
    return tuple(found)


def why_not(
    problem: Problem, slots: Iterable[Slot], day: int, tank: str, feed: str, names: Names | None = None
) -> tuple[Reason, ...]:
    """What keeps a feed away from a tank on a day on which it is not given.

    All hard rules that giving it would break; where it breaks none, the cost that would rise most; where none would
    rise, one reason without a rule.
    """
    forced = Slot(day, tank, feed)
    everything = sorted(slots)
    mine = [slot for slot in everything if slot.tank == tank]
    broken = _broken(problem.tanks[tank], mine, forced, names or {})
    return broken or (_dearest(problem, everything, mine, forced),)


def _clock(problem: Problem, tank: TankProblem, mine: list[Slot], slot: Slot) -> Reason | None:
    feed = tank.feeds[slot.feed]
    start = clock_starts(feed, problem.days)[slot.day]
    before = _before(tank, mine, slot)
    if start is None:
        return None
    if before is None or before < start:
        since, text = slot.day - start, f"wanted for {_days(slot.day - start)}"
    else:
        since, text = slot.day - before, f"{_days(slot.day - before)} since the last"
    return Reason("overdue", f"{text}, at most {feed.max_gap}" if since <= feed.max_gap else f"{text}, overdue")


def _week(problem: Problem, tank: TankProblem, mine: list[Slot], slot: Slot) -> Reason | None:
    feed = tank.feeds[slot.feed]
    week = next(one for one in weeks(problem.start.weekday(), problem.days) if one.first <= slot.day <= one.last)
    if not week.whole:
        return None
    number = given_before(feed, week) + sum(one.feed == slot.feed and week.first <= one.day <= slot.day for one in mine)
    target = week_target(feed, week)
    return Reason("weekly", f"{number} of {round(target, 1):g} this week")


def _company(tank: TankProblem, mine: list[Slot], slot: Slot, names: Names) -> Reason | None:
    if is_fine(tank.feeds[slot.feed].kind) or slot.day not in tank.adults:
        return None
    powders = [one.feed for one in mine if one.day == slot.day and tank.feeds[one.feed].kind in ACCOMPANIED]
    if not powders:
        return None
    return Reason("unaccompanied", f"draws the adults from {_listed(powders, names)}")


def _before(tank: TankProblem, mine: list[Slot], slot: Slot) -> int | None:
    days = [one.day for one in mine if one.feed == slot.feed and one.day < slot.day]
    return days[-1] if days else tank.feeds[slot.feed].last


def _broken(tank: TankProblem, mine: list[Slot], forced: Slot, names: Names) -> tuple[Reason, ...]:
    feed, day = tank.feeds[forced.feed], forced.day
    found: list[Reason] = []
    if day not in feed.open:
        wanted = day in feed.wanted
        found.append(Reason("open", "nothing of it may be given that day" if wanted else "not wanted that day"))
    given = [one.day for one in mine if one.feed == forced.feed]
    near = _nearest(given if feed.last is None else [feed.last, *given], day, max(feed.min_gap, 1))
    if near is not None:
        found.append(Reason("min_gap", f"needs {_days(feed.min_gap)} between: given {_when(near - day)}"))
    if feed.group is not None:
        found += _group_broken(tank, mine, forced, feed.group)
    beside = [one.feed for one in mine if one.day == day]
    if feed.share + sum(tank.feeds[name].share for name in beside) > FULL_DAY + SHARE_TOLERANCE:
        what = f"beside {_listed(beside, names)}" if beside else "into a day"
        found.append(Reason("shares", f"its {feed.share:g} share does not fit {what}"))
    return tuple(found)


def _group_broken(tank: TankProblem, mine: list[Slot], forced: Slot, group: str) -> list[Reason]:
    task = tank.groups[group]
    days = [one.day for one in mine if tank.feeds[one.feed].group == group]
    if task.last is not None:
        days.append(task.last.day)
    near = _nearest(days, forced.day, task.min_gap)
    if near is None:
        return []
    return [Reason("group_gap", f"{group} need {_days(task.min_gap)} between: one is given {_when(near - forced.day)}")]


def _nearest(days: Iterable[int], day: int, gap: int) -> int | None:
    """The nearest of the days that are less than a gap away."""
    return min((one for one in days if abs(one - day) < gap), key=lambda one: (abs(one - day), one), default=None)


def _dearest(problem: Problem, everything: list[Slot], mine: list[Slot], forced: Slot) -> Reason:
    """The cost that rises most when the serving is added."""
    posted = tuple(slot for slot in problem.posted if slot.tank == forced.tank)
    alone = Problem(problem.start, problem.days, {forced.tank: problem.tanks[forced.tank]}, posted)
    before, after = cost(alone, mine), cost(alone, [*mine, forced])
    rises = {one.name: getattr(after, one.name) - getattr(before, one.name) for one in fields(Cost)}
    if problem.posted and not posted:
        rises["churn"] = cost(problem, [*everything, forced]).churn - cost(problem, everything).churn
    longer = longest_round(problem, [*everything, forced]) - longest_round(problem, everything)
    rises["longest_round"] = WEIGHTS.longest_round * longer
    order: tuple[CostName, ...] = ("overdue", "weekly", "repeat", "unaccompanied", "longest_round", "churn")
    name = max(order, key=lambda one: rises[one])
    if rises[name] <= SHARE_TOLERANCE:
        return Reason(None, "nothing keeps it away")
    feed = problem.tanks[forced.tank].feeds[forced.feed]
    texts: dict[str, str] = {
        "overdue": "would make another day overdue",
        "weekly": f"the week has its {feed.per_week:g} already",
        "repeat": "would repeat the last of its group, while another could be given",
        "unaccompanied": "no solid feed that day would draw the adults away",
        "longest_round": f"would make the longest round {longer:.1f} min longer",
        "churn": "was not posted for that day",
    }
    return Reason(name, texts[name])


def _listed(feeds: Iterable[str], names: Names) -> str:
    *first, last = [names.get(feed, feed) for feed in feeds]
    return f"{', '.join(first)} and {last}" if first else last


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"


def _when(offset: int) -> str:
    known = {0: "that day", -1: "the day before", 1: "the day after"}
    return known.get(offset, f"{_days(abs(offset))} {'earlier' if offset < 0 else 'later'}")
