"""What a leave plan costs the animals beside the normal plan: days without feed, parts of the ration, waits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Final

from schedules.amounts.mixing import preparation_minutes
from schedules.amounts.ration.draw_off import draw_off
from schedules.history import History
from schedules.leave.plan import CLOCKS, LeavePlan, leave_problem
from schedules.ledger import PostedServing
from schedules.planning.posting import plan_days, posted_servings
from schedules.planning.problem.types import Clock
from schedules.room import Room
from schedules.room.kinds import Table

TABLES: Final[tuple[Table, ...]] = ("fine", "fan", "ground")
Days = Sequence[Sequence[PostedServing]]


@dataclass(frozen=True, slots=True)
class TableCost:
    """One tank at one table over the days away.

    `wanted` counts the days on which its animals eat there; `fed` those of them with feed by the leave plan, `usual` by
    the normal plan. `part` and `usual_part` are rations, added up; `mg` and `usual_mg` dry feed. `longest` is the
    longest wait in days, from the last feed before the days away up to the day after them, None where nothing was ever
    given; `allowed` the longest that its clocks allow, None where they set no limit.
    """

    tank: str
    table: Table
    wanted: int
    fed: int
    usual: int
    part: float
    usual_part: float
    mg: float
    usual_mg: float
    longest: int | None
    allowed: int | None

    @property
    def without(self) -> int:
        """Wanted days without feed at this table."""
        return self.wanted - self.fed


@dataclass(frozen=True, slots=True)
class LeaveCost:
    """The whole room: every tank and table where anything is wanted, visits, minutes, and what the plan leaves out.

    `longest_visit` and `longest_usual` are the minutes of the longest day, preparation included. `left_out` are feeds
    that the normal plan gives on these days and the leave plan does not. `undrawn` counts by tank the visits on which
    a powder goes in for the young with nothing that draws the adults off, `usual_undrawn` such days of the normal plan.
    """

    tables: tuple[TableCost, ...]
    visits: int
    days: int
    minutes: float
    longest_visit: float
    usual_minutes: float
    longest_usual: float
    left_out: tuple[str, ...]
    undrawn: Mapping[str, int]
    usual_undrawn: int


def normal_days(
    room: Room, history: History, today: date, first: date, last: date
) -> tuple[tuple[PostedServing, ...], ...]:
    """What the normal plan gives on some days: as posted where it reaches so far, else planned for the purpose."""
    posting = history.posting(today)
    days = [first + timedelta(days=number) for number in range((last - first).days + 1)]
    if posting is not None and posting.covers(first) and posting.covers(last):
        return tuple(posting.due(day) for day in days)
    problem, made = plan_days(room, history, first, len(days), today)
    return posted_servings(room, history, problem, made)


def cost_of(room: Room, history: History, today: date, plan: LeavePlan, usual: Days) -> LeaveCost:
    """What a leave plan costs; `usual` is what the normal plan gives on the same days."""
    problem = leave_problem(room, history, today, plan.first, len(plan.days))
    tables = []
    for tank in room.walk:
        for table in TABLES:
            clocks = [problem.tanks[tank].clocks[name] for name in CLOCKS[table] if name in problem.tanks[tank].clocks]
            if clocks:
                tables.append(_table(room, tank, table, clocks, plan, usual))
    minutes = [day_minutes(room, due) for due in plan.days]
    usually = [day_minutes(room, due) for due in usual]
    given = {each.feed for due in plan.days for each in due}
    left_out = {each.feed for due in usual for each in due} - given
    return LeaveCost(
        tables=tuple(tables),
        visits=len(plan.visits),
        days=len(plan.days),
        minutes=sum(minutes),
        longest_visit=max(minutes, default=0.0),
        usual_minutes=sum(usually),
        longest_usual=max(usually, default=0.0),
        left_out=tuple(feed for feed in room.feeds if feed in left_out),
        undrawn=_undrawn(room, plan.first, plan.days),
        usual_undrawn=sum(_undrawn(room, plan.first, usual).values()),
    )


def _undrawn(room: Room, first: date, days: Days) -> dict[str, int]:
    """On how many days each tank with shrimplets and adults gets a powder and nothing that draws the adults off."""
    found: dict[str, int] = {}
    for number, due in enumerate(days):
        for tank in dict.fromkeys(each.tank for each in due if each.tank in room.tanks):
            drawn = draw_off(room, tank, (each for each in due if each.tank == tank), first + timedelta(days=number))
            if drawn is not None and drawn.feed is None:
                found[tank] = found.get(tank, 0) + 1
    return found


def day_minutes(room: Room, due: Sequence[PostedServing]) -> float:
    """The minutes of a day: getting ready, and every serving."""
    handling = sum(
        room.tanks[each.tank].feeds[each.feed].minutes
        for each in due
        if each.tank in room.tanks and each.feed in room.tanks[each.tank].feeds
    )
    return handling + preparation_minutes(room, due)


def _table(room: Room, tank: str, table: Table, clocks: Sequence[Clock], plan: LeavePlan, usual: Days) -> TableCost:
    wanted = {day for clock in clocks for day in clock.wanted}
    answers = {feed for clock in clocks for feed in clock.feeds}
    mine = _by_day(room, tank, table, plan.days)
    normal = _by_day(room, tank, table, usual)
    last = max((clock.last.day for clock in clocks if clock.last), default=None)
    fed = {day for day, due in mine.items() if any(each.feed in answers for each in due)}
    return TableCost(
        tank=tank,
        table=table,
        wanted=len(wanted),
        fed=len(wanted & fed),
        usual=len(wanted & set(normal)),
        part=sum(each.part for due in mine.values() for each in due),
        usual_part=sum(each.part for due in normal.values() for each in due),
        mg=sum(each.amount_mg for due in mine.values() for each in due),
        usual_mg=sum(each.amount_mg for due in normal.values() for each in due),
        longest=_longest(last, sorted(fed), sorted(wanted)),
        allowed=min((clock.max_gap for clock in clocks if clock.max_gap is not None), default=None),
    )


def _by_day(room: Room, tank: str, table: Table, days: Days) -> dict[int, list[PostedServing]]:
    """What a tank gets at a table by day, without what takes nothing of a ration."""
    found: dict[int, list[PostedServing]] = {}
    for number, due in enumerate(days):
        here = [each for each in due if each.tank == tank and each.feed in room.feeds]
        here = [each for each in here if room.feeds[each.feed].table == table and not room.feeds[each.feed].extra]
        if here:
            found[number] = here
    return found


def _longest(last: int | None, fed: Sequence[int], wanted: Sequence[int]) -> int | None:
    """The longest wait while the feed is wanted, up to the day after the last day on which it is."""
    begin = wanted[0] - 1 if last is None or (last < wanted[0] - 1 and wanted[0] > 0) else last
    if last is None and not fed:
        return None
    points = [begin, *(day for day in fed if day > begin), wanted[-1] + 1]
    return max(after - before for before, after in pairwise(points))
