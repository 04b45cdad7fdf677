"""What a posting of 28 days brings with its amounts: rations, days without, what the keeper has to prepare."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from schedules.amounts import daily_ration, prepare
from schedules.history import History
from schedules.ledger import PostedServing, Posting
from schedules.planning.posting import posted_servings
from schedules.planning.problem.build import build_problem
from schedules.planning.problem.types import Problem
from schedules.planning.search import plan
from schedules.room import Room
from schedules.room.kinds import ACCOMPANIED, Table
from tests.bench.plan_defaults import TABLE_CLOCKS

DAYS: Final = 28
HEAD: Final = (
    "| room | fine, ground, fan: mass ÷ (ration × clock days) of a tank's week, median (worst) | "
    "most days on end without fine feed | powder with adults undrawn | empty | "
    "feeds weighed a morning, most: first week, later | "
    "preparation, min: median (most) | vessels touched, median |\n|---|---|---|---|---|---|---|---|"
)


@dataclass(frozen=True)
class Posted:
    """A room with a whole plan posted on its first day."""

    room: Room
    problem: Problem
    history: History

    @property
    def days(self) -> list[date]:
        """The days of the plan."""
        return [self.problem.start + timedelta(days=number) for number in range(DAYS)]

    def due(self, tank: str, day: date) -> tuple[PostedServing, ...]:
        """What is due in a tank on a day and is part of a ration."""
        return tuple(due for due in self.history.due_in(tank, day) if not self.room.feeds[due.feed].extra)


def posted(room: Room, start: date) -> Posted:
    """A room whose keeper begins today, with the plan as it is written into the ledger."""
    empty = History(start, start, (), (), {}, {})
    problem = build_problem(room, empty, start, DAYS)
    days = posted_servings(room, empty, problem, plan(problem))
    return Posted(room, problem, History(start, start, (), (Posting(start, days),), {}, {}))


def report(name: str, made: Posted) -> str:
    """One row of the table."""
    mass = ", ".join(_spread(list(_weeks(made, table))) for table in TABLE_CLOCKS)
    days = list(_tank_days(made))
    powdered = [day for day in days if day.powder_with_adults]
    prepared = [prepare(made.room, made.history, made.history.due(day), day) for day in made.days]
    minutes = [each.minutes for each in prepared]
    vessels = [len({(b.feed, dose.vessel) for b in each.bottles for dose in b.doses}) for each in prepared]
    cells = (
        name,
        mass,
        f"{_longest_without_fine(made)}",
        f"{sum(not day.drawn for day in powdered)} of {len(powdered)}",
        f"{sum(day.empty for day in days)} of {len(days)}",
        ", ".join(str(max(len(each.weighings) for each in some)) for some in (prepared[:7], prepared[7:])),
        f"{statistics.median(minutes):.1f} ({max(minutes):.1f})",
        f"{statistics.median(vessels):g}",
    )
    return f"| {' | '.join(cells)} |\n"


def _weeks(made: Posted, table: Table) -> Iterator[float]:
    """For each tank and whole week what was delivered, by the ration of the days that the table's clock asks for."""
    for tank in made.room.tanks.values():
        problem = made.problem.tanks.get(tank.id)
        clocks = [] if problem is None else [problem.clocks[n] for n in TABLE_CLOCKS[table] if n in problem.clocks]
        for monday in range(0, DAYS, 7):
            week = range(monday, monday + 7)
            asked = sum((c.per_week or 0) * len(set(c.wanted) & set(week)) / 7 for c in clocks)
            if asked >= 1:
                yield sum(_rations(made, tank.id, table, made.days[number]) for number in week) / asked


def _rations(made: Posted, tank_id: str, table: str, day: date) -> float:
    """The rations that the servings of a table come to on a day, as measured out."""
    tank, room = made.room.tanks[tank_id], made.room
    found = 0.0
    for due in made.due(tank_id, day):
        feed = room.feeds[due.feed]
        full = daily_ration(tank, feed, day, room).mg
        found += due.amount_mg / full if feed.table == table and full > 0 else 0.0
    return found


@dataclass(frozen=True, slots=True)
class TankDay:
    """A day of a tank with animals."""

    powder_with_adults: bool
    drawn: bool
    empty: bool


def _tank_days(made: Posted) -> Iterator[TankDay]:
    for tank in made.room.tanks.values():
        for day in made.days:
            if tank.stages(day):
                feeds = [made.room.feeds[due.feed] for due in made.due(tank.id, day)]
                powder = any(feed.kind in ACCOMPANIED for feed in feeds) and tank.count("adult", day) > 0
                yield TankDay(powder, any(feed.draws for feed in feeds), not feeds)


def _longest_without_fine(made: Posted) -> int:
    return max((_run(_lacks_fine(made, tank)) for tank in made.room.tanks), default=0)


def _lacks_fine(made: Posted, tank: str) -> Iterator[bool]:
    """For each day whether shrimplets were there and got no fine feed."""
    for day in made.days:
        tables = {made.room.feeds[due.feed].table for due in made.due(tank, day)}
        yield made.room.tanks[tank].count("shrimplet", day) > 0 and "fine" not in tables


def _run(days: Iterable[bool]) -> int:
    """The most on end."""
    longest = run = 0
    for day in days:
        run = run + 1 if day else 0
        longest = max(longest, run)
    return longest


def _spread(values: list[float]) -> str:
    return f"{statistics.median(values):.2f} ({min(values):.2f})" if values else "–"
